#include <algorithm>

#include "lib/build/starter.hpp"
#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using planning::Move;
using planning::Outcome;
using planning::Standing;
using test::BuildText;
using test::cents;
using test::day;
using test::replanned;
using test::stage_of;
using test::stood;

namespace {

log::NewEntry agreed(const Outcome& outcome, const std::string& on) {
  log::AgreedPlan plan;
  for (const planning::StageView& stage : outcome.stages) {
    for (const planning::JobView& job : stage.jobs) plan.jobs.push_back({job.id, stage.bench});
  }
  return {day(on), plan};
}

std::string told(const Outcome& outcome) {
  std::string all;
  for (const Move& move : outcome.moves) {
    all += move.job + " " + budgets::write_date(move.agreed_bench) + " -> " + std::to_string(move.stage + 1) +
           ":";
    for (const std::string& reason : move.reasons) all += " " + reason + ";";
    all += "\n";
  }
  return all;
}

/// A lamp for 60 and a seat for 150 from 100 a month and 100 in hand, bench on the fourth.
BuildText story() {
  BuildText text;
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 150}]},
    "bell": {"name": "Bell", "kind": "part", "offers": [{"supplier": "shop", "price": 90}]})";
  text.removals = R"("tank": {"name": "Tank", "hours_off": 1, "hours_on": 1})";
  text.jobs =
      R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}], "removals": ["tank"]},
    "sit": {"name": "Fit the seat", "want": 10, "hours": 2, "uses": [{"article": "seat"}]},
    "ring": {"name": "Fit the bell", "want": 4, "hours": 1, "uses": [{"article": "bell"}], "removals": ["tank"]})";
  return text;
}

}  // namespace

TEST_CASE("an agreed job stays unless moving it gains more than the keep") {
  BuildText text = story();
  text.jobs = R"("polish": {"name": "Polish", "want": 2, "hours": 1})";
  const build::Build build = text.read();
  // Agreed for February although January is free: earlier by 31 days is worth 62 want-days.
  const std::vector<log::NewEntry> events{
      {day("2026-12-30"), log::AgreedPlan{{{"polish", day("2027-02-04")}}}}};
  const Standing kept = stood(build, events, "2026-12-30", 62);
  const Outcome stays = replanned(kept);
  CHECK(stage_of(stays, "polish") == 2);
  CHECK(stays.agreed_kept == 1);
  CHECK(told(stays) == "");
  const Standing loose = stood(build, events, "2026-12-30", 61);
  const Outcome moves = replanned(loose);
  CHECK(stage_of(moves, "polish") == 1);
  CHECK(told(moves) == "polish 2027-02-04 -> 1: moving it gains 2.0 want-months;\n");
}

TEST_CASE("what keeping counts is no part of the value or the bound") {
  const build::Build build = story().read();
  const Outcome plan = test::planned(build);
  const Standing standing = stood(build, {agreed(plan, "2026-12-30")}, "2026-12-30", 500);
  const Outcome again = replanned(standing);
  CHECK(again.agreed_kept == 3);
  CHECK(again.value_want_days == plan.value_want_days);
  CHECK(again.bound_want_days == plan.bound_want_days);
}

TEST_CASE(
    "the whole story: agreed, one price wrong, one job late, and only what has to moves, with its reason") {
  const build::Build build = story().read();
  const Outcome plan = test::planned(build);
  REQUIRE(stage_of(plan, "sit") == 1);    // 200 in hand, 150 spent
  REQUIRE(stage_of(plan, "light") == 2);  // 150 in hand, 60 and 90 spent
  REQUIRE(stage_of(plan, "ring") == 2);
  std::vector<log::NewEntry> events{agreed(plan, "2026-12-30"),
                                    {day("2027-01-01"), log::Bought{"seat@1", 1, cents(15000)}},
                                    {day("2027-01-02"), log::Paid{"seat@1", cents(15500)}}};
  {  // The seat cost 5 more: one of the two of February has to wait.
    const Standing standing = stood(build, events, "2027-01-02", planning::usual_keep_days);
    const Outcome outcome = replanned(standing);
    CHECK(stage_of(outcome, "sit") == 1);
    CHECK(stage_of(outcome, "light") == 2);
    CHECK(stage_of(outcome, "ring") == 3);
    CHECK(told(outcome) ==
          "ring 2027-02-04 -> 3: with the rest as it is now, money would be short by 5.00 EUR in stage 2;\n");
    CHECK(outcome.agreed_kept == 2);
  }
  // Then the seat is not fitted in January, the lamp is bought in February and comes late.
  events.push_back({day("2027-02-01"), log::Bought{"lamp@2", 1, cents(6000), day("2027-02-20")}});
  const Standing standing = stood(build, events, "2027-02-01", planning::usual_keep_days);
  const Outcome outcome = replanned(standing);
  CHECK(standing.build->money.opening == cents(30000 - 15500 - 6000));
  CHECK(stage_of(outcome, "sit") == 2);
  CHECK(stage_of(outcome, "light") == 3);
  CHECK(stage_of(outcome, "ring") == 3);
  CHECK(told(outcome) ==
        "sit 2027-01-04 -> 2: that day has passed and it is not recorded as fitted;\n"
        "light 2027-02-04 -> 3: Lamp is on its way until 2027-02-20; Tank is off in stage 3 anyway;\n"
        "ring 2027-02-04 -> 3: with the rest as it is now, money would be short by 5.00 EUR in stage 2; Tank "
        "is off "
        "in stage 3 anyway;\n");
}

TEST_CASE("an agreed job that is left out or closed says why") {
  BuildText text = story();
  text.jobs = R"("bags": {"name": "Soft bags", "want": 3, "hours": 1, "one_of": "luggage"},
    "cases": {"name": "Hard cases", "want": 4, "hours": 1, "one_of": "luggage"},
    "ring": {"name": "Fit the bell", "want": 4, "hours": 1, "uses": [{"article": "bell"}]})";
  const build::Build build = text.read();
  const std::vector<log::NewEntry> events{
      {day("2026-12-30"), log::AgreedPlan{{{"cases", day("2027-02-04")}, {"ring", day("2027-02-04")}}}},
      {day("2027-01-04"), log::Fitted{"bags"}},
      {day("2027-01-05"), log::Counted{cents(-50000)}}};
  const Standing standing = stood(build, events, "2027-01-05", 61);
  CHECK(told(replanned(standing)) ==
        "ring 2027-02-04 -> 0: it costs at least 90.00 EUR with what it opens; at most 0.00 EUR can ever be "
        "spent on "
        "it in time;\n"
        "cases 2027-02-04 -> 0: Soft bags is fitted: at most one of 'luggage';\n");
}

TEST_CASE("bench time that is too short is a reason") {
  BuildText text = story();
  text.jobs = R"("a": {"name": "A", "want": 5, "hours": 6}, "b": {"name": "B", "want": 3, "hours": 4})";
  const build::Build build = text.read();
  const std::vector<log::NewEntry> events{
      {day("2026-12-30"), log::AgreedPlan{{{"a", day("2027-01-04")}, {"b", day("2027-01-04")}}}},
      {day("2027-01-03"), log::Fitted{"a", 400}}};
  const Standing standing = stood(build, events, "2027-01-04", 61);
  CHECK(told(replanned(standing)) ==
        "b 2027-01-04 -> 2: with the rest as it is now, stage 1 would need more than the 3 h 20 min of bench "
        "time it has;\n");
}

TEST_CASE("when all goes as planned the rest stays as planned, stage by stage") {
  build::Reading reading =
      build::read(build::starter_build("bike", "motorcycle", budgets::make_date(2027, 1, 1)), "bike.build");
  REQUIRE(reading.build);
  build::Build build = *reading.build;
  build.money.allowance_bp = 0;  // what is not spent of it would be more money
  for (build::Job& job : build.jobs)
    job.want = std::max(job.want.value_or(0), 1);  // else stages of one worth tie
  const Outcome plan = test::planned(build);
  std::vector<log::NewEntry> events;
  for (const planning::StageView& stage : plan.stages) {
    test::add_as_planned(events, plan, stage);
    if (stage.number == build.money.stages) break;
    const std::string next = budgets::write_date(stage.bench + 1);
    const Standing standing = stood(build, events, next);
    const Outcome rest = replanned(standing);
    CHECK(rest.stages.front().number == stage.number + 1);
    CHECK(rest.left == plan.left);
    for (const planning::StageView& planned : plan.stages) {
      for (const planning::JobView& job : planned.jobs) {
        CHECK(stage_of(rest, job.id) == (planned.number > stage.number ? planned.number : 0));
      }
    }
    for (const planning::StageView& view : rest.stages) {
      CHECK(view.cash_after == plan.stages[static_cast<std::size_t>(view.number) - 1].cash_after);
    }
  }
}
