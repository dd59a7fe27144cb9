#include "lib/progress/replan.hpp"

#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using planning::Outcome;
using planning::Standing;
using test::BuildText;
using test::cents;
using test::day;
using test::replanned;
using test::stage_of;
using test::stood;

namespace {

/// Paydays on the first of January to April 2027, bench on the fourth; two jobs of a part each.
BuildText two_jobs() {
  BuildText text;
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 6, "hours": 2, "uses": [{"article": "seat"}]})";
  return text;
}

const planning::StageView& first(const Outcome& outcome) { return outcome.stages.front(); }

std::string all_notes(const Standing& standing) {
  std::string all;
  for (const std::string& note : standing.notes) all += note + "\n";
  return all;
}

bool says(const Standing& standing, const std::string& sentence) {
  return all_notes(standing).find(sentence) != std::string::npos;
}

std::vector<std::string> bought_keys(const Outcome& outcome) {
  std::vector<std::string> keys;
  for (const planning::BuyingLine& line : planning::buying_lines(outcome)) keys.push_back(line.key);
  return keys;
}

}  // namespace

TEST_CASE("with nothing recorded a build planned from an early day is planned as ever") {
  const build::Build build = two_jobs().read();
  const Outcome plan = test::planned(build);
  const Standing standing = stood(build, {}, "2026-12-24");
  const Outcome again = replanned(standing);
  CHECK(again.value_want_days == plan.value_want_days);
  CHECK(again.stages.size() == plan.stages.size());
  CHECK(bought_keys(again) == bought_keys(plan));
}

TEST_CASE("a stage is over on the day after its bench date and those left keep their numbers") {
  const build::Build build = two_jobs().read();
  CHECK(stood(build, {}, "2027-01-04").build->money.stages_over == 0);
  const Standing standing = stood(build, {}, "2027-01-05");
  CHECK(standing.build->money.stages_over == 1);
  const Outcome outcome = replanned(standing);
  CHECK(first(outcome).number == 2);
  CHECK(outcome.stages.size() == 3);
  CHECK(stage_of(outcome, "light") == 2);
  CHECK(bought_keys(outcome) == std::vector<std::string>{"lamp@2", "seat@2"});
  CHECK(first(outcome).orders.front().lines.front().for_stage == 1);
}

TEST_CASE("exceptions of the bench time stay with their stage") {
  BuildText text = two_jobs();
  text.bench += R"(, "stages": [{"stage": 3, "hours": 7, "why": "a short week"}])";
  const build::Build build = text.read();
  const Standing standing = stood(build, {}, "2027-02-05");
  const Outcome outcome = replanned(standing);
  CHECK(first(outcome).number == 3);
  CHECK(first(outcome).minutes_limit == 420);
  CHECK(first(outcome).bench_note == "a short week");
}

TEST_CASE("when every stage is over there is nothing left to plan") {
  const build::Build build = two_jobs().read();
  CHECK(planning::stand_on(build, test::log_of({}), day("2027-04-04"), 0).build.has_value());
  CHECK_FALSE(planning::stand_on(build, test::log_of({}), day("2027-04-05"), 0).build.has_value());
}

TEST_CASE("a payday that has been is in the cash and its orders go out on the day planned from") {
  const build::Build build = two_jobs().read();
  const Standing standing = stood(build, {}, "2027-02-02");
  const Outcome outcome = replanned(standing);
  CHECK(standing.build->money.opening == cents(30000));  // 100 and two paydays
  CHECK(first(outcome).payday == day("2027-02-02"));
  CHECK(first(outcome).bench == day("2027-02-04"));
  CHECK(first(outcome).cash_in == cents(0));
  CHECK(first(outcome).payday_amount == cents(0));
  CHECK(outcome.stages[1].cash_in == cents(10000));
  CHECK(says(standing,
             "The payday of stage 2 was on 2027-02-01: what is still to be ordered for it goes out on "
             "2027-02-02."));
}

TEST_CASE("cash is what was counted, plus dated money since, less what was bought since") {
  BuildText text = two_jobs();
  text.money_more = R"(, "extras": [{"date": "2027-01-10", "amount": -20, "what": "tax"},
    {"date": "2027-01-20", "amount": 7, "what": "sold a mirror"}])";
  const build::Build build = text.read();
  const auto cash = [&](const std::vector<log::NewEntry>& events, const std::string& on) {
    return planning::cash_on(build, planning::history_of(test::log_of(events), day(on)), day(on)).minor();
  };
  const log::NewEntry lamp{day("2027-01-10"), log::Bought{"lamp@1", 1, cents(6500)}};
  const log::NewEntry count{day("2027-01-10"), log::Counted{cents(9000)}};
  CHECK(cash({}, "2026-12-31") == 10000);
  CHECK(cash({}, "2027-01-01") == 20000);
  CHECK(cash({lamp}, "2027-01-09") == 20000);  // not yet bought
  CHECK(cash({lamp}, "2027-01-10") == 20000 - 2000 - 6500);
  CHECK(cash({lamp, count}, "2027-01-10") == 9000);
  CHECK(cash({count, lamp}, "2027-01-10") == 9000 - 6500);  // bought after counting
  CHECK(cash({lamp, count}, "2027-02-01") == 9000 + 700 + 10000);
  // Bought before the count, corrected after it: the difference went out on the day of the correction.
  CHECK(cash({lamp, count, {day("2027-01-11"), log::Paid{"lamp@1", cents(7000)}}}, "2027-01-12") == 8500);
  CHECK(cash({count, lamp, {day("2027-01-11"), log::Paid{"lamp@1", cents(7000)}}}, "2027-01-12") == 2000);
  CHECK(cash({count, lamp, {day("2027-01-11"), log::Undo{2}}}, "2027-01-12") == 9000);
  CHECK(cash({count, {day("2027-01-05"), log::Bought{"lamp@1", 1, cents(6500)}}}, "2027-01-12") == 9000);
  // Of two counts of a day the later entry counts.
  CHECK(cash({count, {day("2027-01-10"), log::Counted{cents(9100)}}}, "2027-01-10") == 9100);
}

TEST_CASE("a corrected amount of a key bought twice counts once") {
  const build::Build build = two_jobs().read();
  const auto history =
      planning::history_of(test::log_of({{day("2027-01-02"), log::Bought{"lamp@1", 1, cents(6000)}},
                                         {day("2027-01-03"), log::Bought{"lamp@1", 1, cents(6000)}},
                                         {day("2027-01-04"), log::Paid{"lamp@1", cents(11000)}}}),
                           day("2027-01-10"));
  CHECK(history.bought[0].paid + history.bought[1].paid == cents(11000));
}

TEST_CASE("what is bought is stock and is not bought again") {
  const build::Build build = two_jobs().read();
  const Standing standing =
      stood(build, {{day("2027-01-01"), log::Bought{"lamp@1", 1, cents(6000)}}}, "2027-01-02");
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "light") == 1);
  CHECK(bought_keys(outcome) == std::vector<std::string>{"seat@2"});
  CHECK(first(outcome).cash_after == cents(14000));
}

TEST_CASE("what is on its way is there from its arrival on") {
  const build::Build build = two_jobs().read();
  const auto light = [&](const std::string& arrives) {
    const Standing standing = stood(
        build, {{day("2027-01-01"), log::Bought{"lamp@1", 1, cents(20000), day(arrives)}}}, "2027-01-02");
    return stage_of(replanned(standing), "light");
  };
  CHECK(light("2027-01-04") == 1);
  CHECK(light("2027-01-05") == 2);
  CHECK(light("2027-02-04") == 2);
  CHECK(light("2027-02-05") == 3);
}

TEST_CASE("a tool that is bought is owned from its arrival on") {
  BuildText text;
  text.articles =
      R"("press": {"name": "Press", "kind": "tool", "offers": [{"supplier": "shop", "price": 500}]})";
  text.jobs = R"("push": {"name": "Push it", "want": 5, "hours": 1, "tools": ["press"]})";
  const build::Build build = text.read();
  const auto push = [&](const std::string& arrives) {
    const Standing standing = stood(
        build, {{day("2027-01-01"), log::Bought{"press@1", 1, cents(20000), day(arrives)}}}, "2027-01-02");
    return stage_of(replanned(standing), "push");
  };
  CHECK(push("2027-01-02") == 1);
  CHECK(push("2027-02-01") == 2);
}

TEST_CASE("a fitted job leaves the plan and its goods are used up") {
  BuildText text = two_jobs();
  text.articles += R"(, "bolt": {"name": "Bolt", "kind": "consumable", "pack": 10, "keeps_days": 60,
    "offers": [{"supplier": "shop", "price": 4}]})";
  text.jobs +=
      R"(, "more": {"name": "Bolt more", "want": 1, "hours": 1, "after": ["light"], "uses": [{"article": "bolt", "amount": 3}]},
    "first": {"name": "Bolt first", "want": 1, "hours": 1, "uses": [{"article": "bolt", "amount": 8}]})";
  const build::Build build = text.read();
  const std::vector<log::NewEntry> events{{day("2027-01-01"), log::Bought{"lamp@1", 1, cents(6000)}},
                                          {day("2027-01-01"), log::Bought{"bolt@1", 1, cents(400)}},
                                          {day("2027-01-04"), log::Fitted{"light"}},
                                          {day("2027-01-04"), log::Fitted{"first"}}};
  const Standing standing = stood(build, events, "2027-01-05");
  REQUIRE(standing.build->on_hand.size() == 1);
  CHECK(standing.build->on_hand[0].article == "bolt");
  CHECK(standing.build->on_hand[0].amount == 2000);
  CHECK(standing.build->on_hand[0].opened == day("2027-01-04"));
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "light") == 0);
  CHECK(stage_of(outcome, "more") == 2);  // `light` is done, so it need not wait
  CHECK(bought_keys(outcome) == std::vector<std::string>{"seat@2", "bolt@2"});
  CHECK(outcome.left_out.empty());
}

TEST_CASE("goods used without having been bought are told") {
  const build::Build build = two_jobs().read();
  const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"light"}}}, "2027-01-05");
  CHECK(says(standing, "Used without having been recorded as bought: 1 piece of Lamp."));
  CHECK(standing.build->money.opening == cents(20000));
}

TEST_CASE("a removal of a day uses its one-use things once however many jobs shared it") {
  BuildText text = two_jobs();
  text.articles +=
      R"(, "pin": {"name": "Pin", "kind": "consumable", "offers": [{"supplier": "shop", "price": 1}]})";
  text.removals =
      R"("wheel": {"name": "Wheel", "hours_off": 0.5, "hours_on": 0.5, "one_use": [{"article": "pin"}]})";
  text.jobs = R"("a": {"name": "A", "want": 1, "hours": 1, "removals": ["wheel"]},
    "b": {"name": "B", "want": 1, "hours": 1, "removals": ["wheel"]})";
  text.more = R"(, "on_hand": [{"article": "pin", "amount": 5}])";
  const build::Build build = text.read();
  CHECK(stood(build, {{day("2027-01-04"), log::Fitted{"a"}}, {day("2027-01-04"), log::Fitted{"b"}}},
              "2027-01-04")
            .build->on_hand[0]
            .amount == 4000);
  const Standing apart = stood(
      build, {{day("2027-01-03"), log::Fitted{"a"}}, {day("2027-01-04"), log::Fitted{"b"}}}, "2027-01-04");
  CHECK(apart.build->on_hand[0].amount == 3000);
  CHECK(apart.build->bench.minutes_gone == 240);  // two hours of jobs, the wheel twice
}

TEST_CASE("bench time used since the payday is gone from that stage only") {
  const build::Build build = two_jobs().read();
  const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"light", 150}}}, "2027-01-04");
  CHECK(replanned(standing).stages[0].minutes_limit == 450);
  CHECK(replanned(standing).stages[1].minutes_limit == 600);
  CHECK(says(standing, "Of the bench time of stage 1, 2.5 h are used already."));
  const Standing later = stood(build, {{day("2027-01-04"), log::Fitted{"light", 150}}}, "2027-01-05");
  CHECK(replanned(later).stages[0].minutes_limit == 600);
}

TEST_CASE("what a fitted job put on the machine is there and what it replaced is gone") {
  BuildText text = two_jobs();
  text.jobs = R"("swap": {"name": "Swap the chain", "want": 4, "hours": 1, "mates": {"chain": "520"}},
    "front": {"name": "Front sprocket", "want": 0, "hours": 1, "mates": {"chain": "520"}})";
  text.more =
      R"(, "fitted": {"old-chain": {"name": "Old chain", "mates": {"chain": "530"}, "replaced_by": ["swap"]},
    "old-front": {"name": "Old sprocket", "mates": {"chain": "530"}, "replaced_by": ["front"]}})";
  const build::Build build = text.read();
  const Standing both =
      stood(build, {{day("2027-01-04"), log::Fitted{"swap"}}, {day("2027-01-04"), log::Fitted{"front"}}},
            "2027-01-05");
  REQUIRE(both.build->fitted.size() == 2);
  CHECK(both.build->fitted[0].id == "swap");
  CHECK(both.build->fitted[0].mates.at("chain") == "520");
  const Standing one = stood(build, {{day("2027-01-04"), log::Fitted{"swap"}}}, "2027-01-05");
  CHECK(stage_of(replanned(one), "front") == 2);  // worth nothing, but nothing fits until it is done
}

TEST_CASE("what was fitted after the job that takes it off is there still") {
  BuildText text = two_jobs();
  text.jobs =
      R"("wide": {"name": "Wide bars", "want": 4, "hours": 1, "mates": {"bar": "28"}, "replaced_by": ["mend"]},
    "mend": {"name": "Mend the narrow bars", "want": 1, "hours": 1, "mates": {"bar": "22"}, "replaced_by": ["wide"]})";
  const build::Build build = text.read();
  const Standing standing =
      stood(build, {{day("2027-01-04"), log::Fitted{"mend"}}, {day("2027-01-05"), log::Fitted{"wide"}}},
            "2027-01-05");
  REQUIRE(standing.build->fitted.size() == 1);
  CHECK(standing.build->fitted[0].id == "wide");
}

TEST_CASE("a renewed part is as old as its job") {
  BuildText text = two_jobs();
  text.jobs += R"(, "renew": {"name": "Renew the hose", "hours": 1})";
  text.more =
      R"(, "fitted": {"hose": {"name": "Hose", "since": "2020-01-01", "life_years": 4, "replaced_by": ["renew"]}})";
  const build::Build build = text.read();
  const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"renew"}}}, "2027-01-05");
  REQUIRE(standing.build->fitted.size() == 1);
  CHECK(standing.build->fitted[0].name == "Hose");
  CHECK(standing.build->fitted[0].since == day("2027-01-04"));
  CHECK(standing.build->fitted[0].life_months == 48);
}

TEST_CASE("a choice that is made closes the others and what hangs on them") {
  BuildText text = two_jobs();
  text.jobs = R"("bags": {"name": "Soft bags", "want": 3, "hours": 1, "one_of": "luggage"},
    "cases": {"name": "Hard cases", "want": 4, "hours": 1, "one_of": "luggage"},
    "locks": {"name": "Locks for the cases", "want": 2, "hours": 1, "after": ["cases"]},
    "paint": {"name": "Paint", "want": 2, "hours": 1})";
  const build::Build build = text.read();
  const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"bags"}}}, "2027-01-05");
  const Outcome outcome = replanned(standing);
  REQUIRE(outcome.left_out.size() == 2);
  CHECK(outcome.left_out[0].job == "cases");
  CHECK(outcome.left_out[0].reason == "Soft bags is fitted: at most one of 'luggage'");
  CHECK(outcome.left_out[1].reason == "it comes after Hard cases, which cannot be done any more");
  CHECK(stage_of(outcome, "paint") == 2);
}

TEST_CASE("a clash is settled by the job that adapts and stays with what is fitted") {
  BuildText text = two_jobs();
  text.jobs =
      R"("bars": {"name": "High bars", "want": 5, "hours": 1}, "fairing": {"name": "Fairing", "want": 5, "hours": 1},
    "risers": {"name": "Risers", "want": 0, "hours": 1})";
  text.more = R"(, "clashes": [{"between": ["bars", "fairing"], "unless": ["risers"], "why": "they touch"}])";
  const build::Build build = text.read();
  const Standing bars = stood(build, {{day("2027-01-04"), log::Fitted{"bars"}}}, "2027-01-05");
  const Outcome with_bars = replanned(bars);
  CHECK(stage_of(with_bars, "fairing") == 2);
  CHECK(stage_of(with_bars, "risers") == 2);
  const Standing risers = stood(build, {{day("2027-01-04"), log::Fitted{"risers"}}}, "2027-01-05");
  CHECK(risers.build->clashes.empty());
}

TEST_CASE("a must whose day has passed stays and hurries, another job is closed") {
  BuildText text = two_jobs();
  text.jobs = R"("brakes": {"name": "Brakes", "must": true, "by": "2027-01-31", "hours": 1},
    "wax": {"name": "Wax", "want": 3, "by": "2027-01-31", "hours": 1})";
  const build::Build build = text.read();
  const Standing standing = stood(build, {}, "2027-01-05");
  CHECK(says(standing,
             "Brakes is late: it was to be done by 2027-01-31. It stays a must, without a day, and is wanted "
             "10."));
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "brakes") == 2);
  REQUIRE(outcome.left_out.size() == 1);
  CHECK(outcome.left_out[0].reason == "it was to be done by 2027-01-31, which has passed");
}

TEST_CASE("a fee or a hire that is paid is not paid again") {
  BuildText text;
  text.articles = R"("press": {"name": "Press", "kind": "tool", "hire": 30})";
  text.jobs = R"("push": {"name": "Push it", "want": 5, "hours": 1, "cost": 45, "tools": ["press"]})";
  const build::Build build = text.read();
  const Standing standing = stood(build,
                                  {{day("2027-01-01"), log::Bought{"fee:push@1", 1, cents(4500)}},
                                   {day("2027-01-01"), log::Bought{"hire:press@1", 1, cents(3000)}}},
                                  "2027-01-02");
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "push") == 1);
  CHECK(outcome.spent == cents(0));
  CHECK(standing.build->money.opening == cents(12500));
}

TEST_CASE("cash below the keep-back is told and holds back buying, not the plan") {
  BuildText text = two_jobs();
  text.keep_back = "90.00";
  const build::Build build = text.read();
  const Standing standing =
      stood(build, {{day("2027-01-01"), log::Bought{"seat@1", 1, cents(15000)}}}, "2027-01-02");
  CHECK(says(standing,
             "That is 40.00 EUR less than is to be kept back: nothing is bought until it is whole again."));
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "sit") == 1);
  CHECK(first(outcome).floor == cents(5000));
  CHECK(stage_of(outcome, "light") == 2);  // 50 + 100 - 60 = 90
}

TEST_CASE("entries after the day and undone ones are not counted") {
  const build::Build build = two_jobs().read();
  const std::vector<log::NewEntry> events{{day("2027-01-04"), log::Fitted{"light"}},
                                          {day("2027-01-04"), log::Fitted{"sit"}},
                                          {day("2027-01-04"), log::Undo{2}}};
  CHECK(stood(build, events, "2027-01-05").build->jobs.size() == 1);
  const Standing early = stood(build, events, "2027-01-03");
  CHECK(early.build->jobs.size() == 2);
  CHECK(says(early, "1 entry of the log is dated later and is not counted."));
  CHECK(planning::last_day(test::log_of(events)) == day("2027-01-04"));
}

TEST_CASE("what the log names and the build does not have is told with its line and the nearest name") {
  const build::Build build = two_jobs().read();
  std::string all;
  for (const build::Diagnostic& one :
       planning::check_log(build, test::log_of({{day("2027-01-01"), log::Bought{"lamb@1", 1, cents(1)}},
                                                {day("2027-01-01"), log::Fitted{"sit"}},
                                                {day("2027-01-02"), log::Fitted{"sit"}},
                                                {day("2027-01-02"), log::Paid{"seat@1", cents(5)}}}))) {
    all += build::to_text(one) + "\n";
  }
  CHECK(all ==
        "test.log:2:1: warning: found lamb, expected an article of the build; did you mean lamp?\n"
        "test.log:4:1: warning: found sit, expected a job that is not fitted already\n"
        "test.log:5:1: warning: found seat@1, expected the key of something bought before\n");
}

TEST_CASE("keys of the shopping list are told apart") {
  using Kind = planning::ShoppingKey::Kind;
  CHECK(planning::read_key("tyre@12").stage == 12);
  CHECK(planning::read_key("pin@2#rule").id == "pin");
  CHECK(planning::read_key("delivery:shop@3").kind == Kind::delivery);
  CHECK(planning::read_key("hire:press@3").id == "press");
  CHECK(planning::read_key("fee:push@3").kind == Kind::fee);
  for (const char* other : {"tyre", "tyre@0", "tyre@x", "rule@job@2", "besides:4", "other:x@2", "@2#rul"}) {
    const planning::ShoppingKey key = planning::read_key(other);
    CHECK(key.kind == Kind::other);
    CHECK(key.id == "");
    CHECK(key.stage == 0);
  }
}
