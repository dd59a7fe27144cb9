#include "lib/purse/joint.hpp"

#include "lib/purse/plan.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

// What the second build of a purse says counts within that build alone.

using namespace fettlefund;
using test::BuildText;

namespace {

/// A boat whose jobs need nothing of each other; the purse has 100.00 and 100.00 more each month, 10 h a
/// stage.
BuildText plain_boat() {
  return {.jobs = R"("rub": {"name": "Rub down", "want": 3, "hours": 1},
    "oil": {"name": "Oil the tiller", "want": 3, "hours": 1})"};
}

/// The plan of both builds on one purse, the first's money and bench.
purse::Outcome on_one_purse(const BuildText& first, const BuildText& second) {
  purse::Purse purse{"shed.purse", "The shed", {}};
  purse.members.push_back({"boat", "boat.build", first.read()});
  purse.members.push_back({"bike", "bike.build", second.read()});
  purse.members[0].build.name = "Boat";
  purse.members[1].build.name = "Bike";
  purse::Planning planning = purse::plan(purse);
  REQUIRE(std::holds_alternative<purse::Outcome>(planning));
  return std::get<purse::Outcome>(std::move(planning));
}

}  // namespace

TEST_CASE("a job of the second build comes after a job of its own build") {
  const BuildText bike{.jobs =
                           R"("strip": {"name": "Strip", "want": 1, "hours": 1, "not_before": "2027-02-01"},
    "paint": {"name": "Paint", "want": 9, "hours": 1, "after": ["strip"]})"};
  const purse::Outcome outcome = on_one_purse(plain_boat(), bike);
  CHECK(test::stage_of(outcome.shares[0].outcome, "rub") == 1);
  CHECK(test::stage_of(outcome.shares[1].outcome, "strip") == 2);
  CHECK(test::stage_of(outcome.shares[1].outcome, "paint") == 2);
}

TEST_CASE("what jobs of the second build put on has to agree on that machine") {
  const BuildText bike{
      .jobs = R"("chain": {"name": "Chain", "want": 9, "hours": 1, "mates": {"chain": "520"}},
    "front": {"name": "Front sprocket", "want": 0, "hours": 1, "cost": 10, "not_before": "2027-02-01",
      "mates": {"chain": "520"}})",
      .more =
          R"(, "fitted": {"old-chain": {"name": "Old chain", "mates": {"chain": "530"}, "replaced_by": ["chain"]},
    "old-front": {"name": "Old sprocket", "mates": {"chain": "530"}, "replaced_by": ["front"]}})"};
  const purse::Outcome outcome = on_one_purse(plain_boat(), bike);
  CHECK(test::stage_of(outcome.shares[1].outcome, "chain") == 2);
  CHECK(test::stage_of(outcome.shares[1].outcome, "front") == 2);
}

TEST_CASE("two machines of a purse need not agree with each other") {
  BuildText boat = plain_boat();
  boat.more = R"(, "fitted": {"winch": {"name": "Winch", "mates": {"chain": "400"}}})";
  const BuildText bike{
      .jobs = R"("chain": {"name": "Chain", "want": 9, "hours": 1, "mates": {"chain": "520"}})",
      .more =
          R"(, "fitted": {"old-chain": {"name": "Old chain", "mates": {"chain": "530"}, "replaced_by": ["chain"]}})"};
  CHECK(test::stage_of(on_one_purse(boat, bike).shares[1].outcome, "chain") == 1);
}

TEST_CASE("a part of the second build is renewed by the jobs of that build") {
  const BuildText bike{
      .jobs = R"("hose": {"name": "Renew the hose", "hours": 1, "cost": 20},
    "all": {"name": "Renew all of it", "hours": 2, "cost": 200})",
      .more =
          R"(, "fitted": {"old-hose": {"name": "Hose", "since": "2020-01-01", "life_years": 4, "replaced_by": ["hose", "all"]}})"};
  const purse::Outcome outcome = on_one_purse(plain_boat(), bike);
  CHECK(test::stage_of(outcome.shares[1].outcome, "hose") == 1);
  CHECK(test::stage_of(outcome.shares[1].outcome, "all") == 0);
}

TEST_CASE("a build of a purse has the bench time that the others leave") {
  BuildText boat = plain_boat(), bike = plain_boat();
  boat.jobs = R"("rub": {"name": "Rub down", "want": 3, "hours": 4})";
  bike.jobs = R"("wax": {"name": "Wax", "want": 3, "hours": 1.5})";
  const purse::Outcome outcome = on_one_purse(boat, bike);
  CHECK(outcome.stages[0].minutes_limit == 600);
  CHECK(outcome.shares[0].outcome.stages[0].minutes_limit == 600 - 90);
  CHECK(outcome.shares[1].outcome.stages[0].minutes_limit == 600 - 240);
  CHECK(outcome.shares[1].outcome.stages[1].minutes_limit == 600);
  CHECK(outcome.shares[1].outcome.stages[0].bench_note == "4 h go to Boat");
}
