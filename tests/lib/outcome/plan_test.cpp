#include "lib/outcome/plan.hpp"

#include <algorithm>

#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::make_date;
using budgets::Money;
using test::BuildText;
using test::planned;
using test::stage_of;

namespace {

Money eur(std::int64_t minor) { return Money::of_minor(minor); }

/// A brake and a chain behind one wheel; the wheel spoils a pin each time.
BuildText wheel_build() {
  return {
      .articles =
          R"("pads": {"name": "pads", "kind": "part", "offers": [{"supplier": "shop", "price": 30.00}]},
      "chain": {"name": "chain", "kind": "part", "offers": [{"supplier": "shop", "price": 60.00}]},
      "pin": {"name": "pin", "kind": "part", "offers": [{"supplier": "shop", "price": 2.00}]})",
      .removals =
          R"("wheel": {"name": "wheel", "hours_off": 0.5, "hours_on": 0.5, "one_use": [{"article": "pin"}]})",
      .jobs =
          R"("brake": {"name": "brake", "want": 5, "hours": 1, "removals": ["wheel"], "uses": [{"article": "pads"}]},
      "chain": {"name": "chain", "want": 5, "hours": 1, "removals": ["wheel"], "uses": [{"article": "chain"}]})"};
}

BuildText lead_build(int lead_days) {
  return {
      .articles =
          R"("seat": {"name": "seat", "kind": "part", "offers": [{"supplier": "shop", "price": 50.00, "lead_days": )" +
          std::to_string(lead_days) + "}]}",
      .jobs =
          R"("seat": {"name": "seat", "want": 5, "hours": 1, "not_before": "2027-03-04", "uses": [{"article": "seat"}]})"};
}

/// The stage (from 1) whose payday pays for the article; 0 if it is not bought.
int paid_in(const planning::Outcome& outcome, const std::string& article) {
  for (const planning::StageView& stage : outcome.stages) {
    for (const planning::OrderView& order : stage.orders) {
      for (const planning::ShoppingLine& line : order.lines) {
        if (line.article == article) return stage.number;
      }
    }
  }
  return 0;
}

BuildText tool_build(const std::string& tool, const std::string& more = "") {
  return {.articles = R"("press": {"name": "press", "kind": "tool")" + tool + "}",
          .jobs = R"("a": {"name": "job a", "want": 5, "hours": 8, "tools": ["press"]},
                     "b": {"name": "job b", "want": 5, "hours": 8, "tools": ["press"]})",
          .more = more};
}

}  // namespace

TEST_CASE("a removal shared by two jobs of a stage is charged once") {
  const build::Build build = wheel_build().read();
  const planning::Outcome outcome = planned(build);
  const planning::StageView& first = outcome.stages[0];
  CHECK(stage_of(outcome, "brake") == 1);
  CHECK(stage_of(outcome, "chain") == 1);
  CHECK(first.spent == eur(9200));
  CHECK(first.minutes_used == 180);
  REQUIRE(first.removals.size() == 1);
  CHECK(first.removals[0].for_jobs == std::vector<std::string>{"brake", "chain"});
}

TEST_CASE("a removal opened in two stages is charged in both") {
  BuildText text = wheel_build();
  text.opening = "0.00";  // not both on one payday
  text.amount = "62.00";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "brake") != stage_of(outcome, "chain"));
  CHECK(outcome.spent == eur(3000 + 6000 + 2 * 200));
}

TEST_CASE("a longer lead time moves the order and not the job") {
  const build::Build soon = lead_build(3).read(), late = lead_build(40).read();
  const planning::Outcome quick = planned(soon), slow = planned(late);
  CHECK(stage_of(quick, "seat") == 3);
  CHECK(stage_of(slow, "seat") == 3);
  CHECK(paid_in(quick, "seat") == 3);
  CHECK(paid_in(slow, "seat") == 1);  // 1 February plus 40 days is past 4 March, 1 January plus 40 is not
  const planning::ShoppingLine& line = slow.stages[0].orders.at(0).lines.at(0);
  CHECK(line.key == "seat@3");
  CHECK(line.arrives == make_date(2027, 2, 10));
  CHECK(line.for_stage == 2);
}

TEST_CASE("a dearer article changes the stage that pays and the cash after it and nothing else") {
  BuildText text = wheel_build();
  const build::Build before_build = text.read();
  text.articles.replace(text.articles.find("30.00"), 5, "40.00");
  const build::Build after_build = text.read();
  const planning::Outcome before = planned(before_build), after = planned(after_build);
  for (std::size_t t = 0; t < before.stages.size(); ++t) {
    CAPTURE(t);
    CHECK(after.stages[t].spent - before.stages[t].spent == eur(t == 0 ? 1000 : 0));
    CHECK(before.stages[t].cash_after - after.stages[t].cash_after == eur(1000));
    CHECK(after.stages[t].minutes_used == before.stages[t].minutes_used);
  }
}

TEST_CASE("delivery is charged below the free-from amount and not from it on") {
  BuildText text = wheel_build();
  text.suppliers = R"("shop": {"name": "Corner Shop", "delivery": 6.00, "free_from": 92.00})";
  const build::Build at = text.read();
  CHECK(planned(at).stages[0].delivery == eur(0));
  text.suppliers = R"("shop": {"name": "Corner Shop", "delivery": 6.00, "free_from": 92.01})";
  const build::Build below = text.read();
  CHECK(planned(below).stages[0].delivery == eur(600));
}

TEST_CASE("the allowance is rounded up on each payday") {
  BuildText text = wheel_build();
  text.money_more = R"(, "allowance_percent": 0.01)";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(outcome.stages[0].allowance == eur(1));  // 0.92 cent
  CHECK(outcome.stages[1].allowance == eur(0));
}

TEST_CASE("the keep-back moves a job to a later payday by one cent") {
  BuildText text{.opening = "0.00",
                 .jobs = R"("fee": {"name": "fee", "want": 5, "hours": 1, "cost": 90.00})"};
  text.keep_back = "10.00";
  const build::Build enough = text.read();
  CHECK(stage_of(planned(enough), "fee") == 1);
  text.keep_back = "10.01";
  const build::Build short_by_a_cent = text.read();
  CHECK(stage_of(planned(short_by_a_cent), "fee") == 2);
}

TEST_CASE("a bill before the next payday holds a job back") {
  BuildText text{.opening = "0.00",
                 .jobs = R"("fee": {"name": "fee", "want": 5, "hours": 1, "cost": 90.00})"};
  text.money_more = R"(, "extras": [{"date": "2027-01-20", "amount": -10.01, "what": "bill"}])";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "fee") == 2);
  CHECK(outcome.stages[0].floor == eur(1001));
  REQUIRE(outcome.stages[1].extras.size() == 1);
  CHECK(outcome.stages[1].extras[0].what == "bill");
}

TEST_CASE("one minute too few on the bench moves a job") {
  BuildText text{
      .jobs = R"("a": {"name": "a", "want": 9, "hours": 6}, "b": {"name": "b", "want": 1, "hours": 4})"};
  const build::Build fits = text.read();
  CHECK(stage_of(planned(fits), "b") == 1);
  text.jobs.replace(text.jobs.find("\"hours\": 4"), 10, "\"hours\": 4.05");
  const build::Build over = text.read();
  CHECK(stage_of(planned(over), "a") == 1);
  CHECK(stage_of(planned(over), "b") == 2);
}

TEST_CASE("a job after another is never in an earlier stage") {
  BuildText text{
      .jobs =
          R"("a": {"name": "a", "want": 1, "hours": 6}, "b": {"name": "b", "want": 9, "hours": 5, "after": ["a"]})"};
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "a") == 1);
  CHECK(stage_of(outcome, "b") == 2);
}

TEST_CASE("of a choice the better one is done and the other told as left out") {
  BuildText text{.jobs = R"("a": {"name": "tan seat", "want": 4, "hours": 1, "one_of": "seat"},
                            "b": {"name": "black seat", "want": 5, "hours": 1, "one_of": "seat"})"};
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "b") == 1);
  REQUIRE(outcome.left_out.size() == 1);
  CHECK(outcome.left_out[0].reason == "black seat is done instead: at most one of 'seat'");
}

TEST_CASE("a change of a mate brings all that carry it into one stage and says why") {
  BuildText text{.opening = "30.00", .amount = "30.00"};
  text.articles =
      R"("c": {"name": "c", "kind": "part", "mates": {"chain-size": "520"}, "offers": [{"supplier": "shop", "price": 40.00}]},
                     "s": {"name": "s", "kind": "part", "mates": {"chain-size": "520"}, "offers": [{"supplier": "shop", "price": 40.00}]})";
  text.jobs = R"("chain": {"name": "chain", "want": 5, "hours": 1, "uses": [{"article": "c"}]},
                 "sprocket": {"name": "sprocket", "want": 5, "hours": 1, "uses": [{"article": "s"}]})";
  text.more =
      R"(, "fitted": {"old-chain": {"name": "old chain", "mates": {"chain-size": "525"}, "replaced_by": ["chain"]},
                 "old-sprocket": {"name": "old sprocket", "mates": {"chain-size": "525"}, "replaced_by": ["sprocket"]}})";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "chain") == 2);  // 80.00 is there on the second payday
  CHECK(stage_of(outcome, "sprocket") == 2);
  CHECK(outcome.stages[1].groups ==
        std::vector<std::string>{
            "chain and sprocket share this stage: chain-size changes from 525 to 520 for all "
            "of them at once."});
}

TEST_CASE("a clash keeps two things apart until the adapting job is done") {
  BuildText text{
      .jobs = R"("rack": {"name": "rack", "want": 5, "hours": 1},
                            "bags": {"name": "bags", "want": 4, "hours": 1},
                            "bracket": {"name": "bracket", "want": 0, "hours": 1, "not_before": "2027-03-01"})",
      .more = R"(, "clashes": [{"between": ["rack", "bags"], "unless": ["bracket"], "why": "they touch"}])"};
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "rack") == 1);
  CHECK(stage_of(outcome, "bags") == 3);
  CHECK(stage_of(outcome, "bracket") == 3);
}

TEST_CASE("tools are hired or bought, whichever the plan makes cheaper") {
  const build::Build hire =
      tool_build(R"(, "hire": 5.00, "offers": [{"supplier": "shop", "price": 10.01}])").read();
  const planning::Outcome hired = planned(hire);
  CHECK(hired.tools.at(0).how == "hired in stages 1 and 2");
  CHECK(hired.tools.at(0).amount == eur(1000));
  const build::Build buy =
      tool_build(R"(, "hire": 5.00, "offers": [{"supplier": "shop", "price": 9.99}])").read();
  const planning::Outcome bought = planned(buy);
  CHECK(bought.tools.at(0).how == "bought in stage 1");
  CHECK(bought.stages[0].orders.at(0).lines.at(0).key == "press@1");
  std::vector<std::string> users = bought.tools.at(0).used_for;
  std::sort(users.begin(), users.end());  // they stand in the order of the work
  CHECK(users == std::vector<std::string>{"job a", "job b"});
}

TEST_CASE("a borrowed tool is free on bench dates in its range, both ends included") {
  const std::string borrow = R"(, "hire": 5.00, "borrow": [{"from": "2027-01-04", "until": "2027-02-04"}])";
  const build::Build build = tool_build(borrow).read();
  CHECK(planned(build).tools.at(0).how == "borrowed in stages 1 and 2");
  const build::Build shorter =
      tool_build(R"(, "hire": 5.00, "borrow": [{"from": "2027-01-05", "until": "2027-02-04"}])").read();
  CHECK(planned(shorter).tools.at(0).how == "borrowed in stage 2 and hired in stage 1");
}

TEST_CASE("an owned tool costs nothing") {
  const build::Build build = tool_build("", R"(, "on_hand": [{"article": "press"}])").read();
  const planning::Outcome outcome = planned(build);
  CHECK(outcome.tools.at(0).how == "owned");
  CHECK(outcome.spent == eur(0));
}

TEST_CASE("stock is used first and only while it keeps") {
  BuildText text{
      .articles =
          R"("glue": {"name": "glue", "kind": "consumable", "unit": "ml", "pack": 50, "keeps_days": 30,
                               "offers": [{"supplier": "shop", "price": 7.00}]})",
      .jobs = R"("a": {"name": "a", "want": 5, "hours": 1, "uses": [{"article": "glue", "amount": 20}]})"};
  text.more = R"(, "on_hand": [{"article": "glue", "amount": 20, "opened": "2026-12-05"}])";
  const build::Build good = text.read();
  CHECK(planned(good).spent == eur(0));  // usable up to and including 4 January, the bench date
  text.more = R"(, "on_hand": [{"article": "glue", "amount": 20, "opened": "2026-12-04"}])";
  const build::Build gone_off = text.read();
  CHECK(planned(gone_off).spent == eur(700));
}

TEST_CASE("a closed bottle on hand goes off once it is opened") {
  BuildText text{
      .articles =
          R"("glue": {"name": "glue", "kind": "consumable", "unit": "ml", "pack": 50, "keeps_days": 30,
                               "offers": [{"supplier": "shop", "price": 7.00}]})",
      .jobs =
          R"("a": {"name": "a", "must": true, "by": "2027-01-31", "hours": 1, "uses": [{"article": "glue", "amount": 20}]},
                 "b": {"name": "b", "want": 5, "hours": 1, "not_before": "2027-03-01", "uses": [{"article": "glue", "amount": 20}]})"};
  text.more = R"(, "on_hand": [{"article": "glue", "amount": 50}])";
  const build::Build one = text.read();
  CHECK(planned(one).spent == eur(700));  // opened on 4 January, gone off by 4 March
  text.more = R"(, "on_hand": [{"article": "glue", "amount": 100}])";
  const build::Build two = text.read();
  CHECK(planned(two).spent == eur(0));  // the second bottle is still closed
}

TEST_CASE("what a rule added stands in the order with its reason and among the reminders") {
  BuildText text{.articles = R"("pins": {"name": "pins", "kind": "part", "serves": ["split-pin"], "pack": 10,
                               "offers": [{"supplier": "shop", "price": 1.00}]})",
                 .jobs = R"("a": {"name": "job a", "want": 1, "hours": 1, "tags": ["split pin"]})"};
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  const planning::ShoppingLine& line = outcome.stages[0].orders.at(0).lines.at(0);
  CHECK(line.key == "pins@1#rule");
  CHECK(line.reason != "");
  const planning::Reminder& reminder = outcome.stages[0].reminders.at(0);
  CHECK(reminder.key == "split-pin@a@1");
  CHECK(reminder.bought);
  CHECK(reminder.amount_paid_in_plan == eur(100));
}

TEST_CASE("a due part that lies open is told with what renewing it would take") {
  BuildText text = wheel_build();
  text.articles +=
      R"(, "rubbers": {"name": "rubbers", "kind": "part", "offers": [{"supplier": "shop", "price": 500.00}]})";
  text.jobs +=
      R"(, "rubbers": {"name": "rubbers", "hours": 0.5, "removals": ["wheel"], "uses": [{"article": "rubbers"}]})";
  text.more = R"(, "fitted": {"old-rubbers": {"name": "old rubbers", "since": "2021-01-10", "life_years": 5,
                 "replaced_by": ["rubbers"], "reached_by": ["wheel"]}})";
  text.stages = "2";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  REQUIRE(outcome.stages[0].while_off.size() == 1);
  const planning::DuePart& part = outcome.stages[0].while_off[0];
  CHECK(part.due == make_date(2026, 1, 10));
  CHECK(part.overdue_months == 11);
  CHECK_FALSE(part.chosen);
  CHECK(part.extra_money == eur(50000));
  CHECK(part.extra_minutes == 30);
}

TEST_CASE("an overdue part that two jobs of the plan renew counts once") {
  BuildText text{
      .jobs =
          R"("road": {"name": "road pads", "hours": 1}, "race": {"name": "race pads", "want": 1, "hours": 1})"};
  text.more = R"(, "fitted": {"pads": {"name": "old pads", "since": "2015-01-01", "life_years": 2,
                 "replaced_by": ["road", "race"]}})";
  const int days = make_date(2027, 4, 30) - make_date(2027, 1, 4);
  const planning::Outcome outcome = planned(text.read());
  CHECK(outcome.proof == planning::Proof::proven);
  CHECK(outcome.value_want_days == 10 * days + 1 * days);  // road pads as the first, race pads for themselves
}

TEST_CASE("value and bound of a proven plan are the same want-days") {
  const build::Build build = BuildText{.jobs = R"("a": {"name": "a", "want": 7, "hours": 1})"}.read();
  const planning::Outcome outcome = planned(build);
  CHECK(outcome.proof == planning::Proof::proven);
  CHECK(outcome.value_want_days == 7 * (make_date(2027, 4, 30) - make_date(2027, 1, 4)));
  CHECK(outcome.bound_want_days == outcome.value_want_days);
}

TEST_CASE("value and bound of a proven plan are the same where bother leaves half a want-day") {
  BuildText text = wheel_build();
  text.bench = R"("hours": 10, "days_after_payday": 3, "bother": 1)";
  text.removals = R"("wheel": {"name": "wheel", "hours_off": 0.25, "hours_on": 0.25})";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(outcome.proof == planning::Proof::proven);
  CHECK(outcome.bound_want_days == outcome.value_want_days);
}

TEST_CASE("an hour of removals costs the bother") {
  BuildText text = wheel_build();
  const build::Build without_build = text.read();
  text.bench = R"("hours": 10, "days_after_payday": 3, "bother": 30)";
  const build::Build with_build = text.read();
  CHECK(planned(without_build).value_want_days - planned(with_build).value_want_days == 30);
}

TEST_CASE("the same build gives the same plan twice") {
  const build::Build build = wheel_build().read();
  const planning::Outcome first = planned(build), second = planned(build);
  CHECK(first.work.steps == second.work.steps);
  CHECK(first.value_want_days == second.value_want_days);
  CHECK(first.spent == second.spent);
}

TEST_CASE("jobs with each other share a stage and the plan says that the file asks for it") {
  BuildText text{.opening = "0.00", .amount = "30.00"};
  text.jobs = R"("front": {"name": "front tyre", "want": 5, "hours": 1, "cost": 20.00, "with": ["rear"]},
                 "rear": {"name": "rear tyre", "want": 5, "hours": 1, "cost": 20.00})";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  CHECK(stage_of(outcome, "front") == 2);  // 40.00 is there on the second payday
  CHECK(stage_of(outcome, "rear") == 2);
  CHECK(outcome.stages[1].groups ==
        std::vector<std::string>{
            "front tyre and rear tyre share this stage: the build file asks for them to be done together."});
  text.jobs.replace(text.jobs.find(R"(, "with": ["rear"])"), 18, "");
  const build::Build free = text.read();
  CHECK(stage_of(planned(free), "front") + stage_of(planned(free), "rear") == 3);
}

TEST_CASE("what is left of a pack serves a later stage while it keeps") {
  BuildText text;
  const std::string oil =
      R"("oil": {"name": "oil", "kind": "consumable", "unit": "ml", "pack": 1000, "offers": [{"supplier": "shop", "price": 12.00}])";
  text.articles = oil + "}";
  text.jobs = R"("a": {"name": "a", "want": 5, "hours": 8, "uses": [{"article": "oil", "amount": 400}]},
                 "b": {"name": "b", "want": 4, "hours": 8, "uses": [{"article": "oil", "amount": 600}]})";
  const build::Build for_ever = text.read();
  CHECK(planned(for_ever).spent == eur(1200));
  text.articles = oil + R"(, "keeps_days": 31})";  // from bench date 4 January to 4 February
  const build::Build long_enough = text.read();
  CHECK(planned(long_enough).spent == eur(1200));
  text.articles = oil + R"(, "keeps_days": 30})";
  const build::Build too_short = text.read();
  CHECK(planned(too_short).spent == eur(2400));
}

TEST_CASE("an offer is taken on its last day and not the day after") {
  const auto stage_with = [](const std::string& window) {
    const build::Build build =
        BuildText{
            .opening = "0.00",
            .amount = "30.00",
            .articles =
                R"("x": {"name": "x", "kind": "part", "offers": [{"supplier": "shop", "price": 50.00, )" +
                window + "}]}",
            .jobs = R"("a": {"name": "a", "want": 5, "hours": 1, "uses": [{"article": "x"}]})"}
            .read();
    planning::Planning planning = planning::plan(build);
    return stage_of(std::get<planning::Outcome>(planning), "a");
  };
  CHECK(stage_with(R"("until": "2027-02-01")") == 2);  // 60.00 is there on 1 February
  CHECK(stage_with(R"("until": "2027-01-31")") == 0);
  CHECK(stage_with(R"("from": "2027-02-02")") == 3);
}

TEST_CASE("an end that the listed paydays do not tell is shown as taken for granted") {
  BuildText text{.stages = "2", .paydays = R"({"dates": ["2027-01-01", "2027-02-05"]})"};
  text.jobs = R"("a": {"name": "a", "want": 5, "hours": 1})";
  const auto tells = [](const build::Build& build) {
    const planning::Outcome outcome = planned(build);
    return std::any_of(outcome.assumptions.begin(), outcome.assumptions.end(), [](const std::string& note) {
      return note.find("the plan is taken to end on 2027-03-12") != std::string::npos;
    });
  };
  CHECK(tells(text.read()));
  text.paydays = R"({"dates": ["2027-01-01", "2027-02-05", "2027-03-12"]})";
  CHECK_FALSE(tells(text.read()));
}
