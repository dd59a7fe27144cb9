#include "lib/progress/replan.hpp"
#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

// A build under way whose bench time comes in sessions.

using namespace fettlefund;
using planning::Outcome;
using planning::Standing;
using test::replanned;
using test::stood;

namespace {

/// Paydays on the first of January to April 2027; an evening of two hours each Tuesday.
test::BuildText tuesdays() {
  test::BuildText text;
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}], "bother": 0)";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 3, "overnight": true},
    "sit": {"name": "Fit the seat", "want": 6, "hours": 2})";
  return text;
}

}  // namespace

TEST_CASE("a stage with sessions is over on the day after its last one") {
  const build::Build build = tuesdays().read();
  CHECK(replanned(stood(build, {}, "2027-01-26")).stages.front().number == 1);
  CHECK(replanned(stood(build, {}, "2027-01-27")).stages.front().number == 2);
}

TEST_CASE("of a stage under way the sessions to come are left") {
  const build::Build build = tuesdays().read();
  const Outcome outcome = replanned(stood(build, {}, "2027-01-13"));
  REQUIRE(outcome.stages.front().sessions.size() == 2);
  CHECK(outcome.stages.front().bench == test::day("2027-01-19"));
  CHECK(outcome.stages.front().minutes_limit == 240);
}

TEST_CASE("work recorded in sessions that are over takes nothing from those to come") {
  const build::Build build = tuesdays().read();
  const Standing standing = stood(build, {{test::day("2027-01-12"), log::Fitted{"light"}}}, "2027-01-13");
  const Outcome outcome = replanned(standing);
  CHECK(outcome.stages.front().minutes_limit == 240);
  REQUIRE(outcome.stages.front().jobs.size() == 1);
}

TEST_CASE("jobs agreed for a stage stay in it while its sessions go by") {
  const build::Build build = tuesdays().read();
  log::AgreedPlan agreed;
  agreed.jobs = {{"light", test::day("2027-01-05")}, {"sit", test::day("2027-01-05")}};
  const Outcome outcome = replanned(stood(build, {{test::day("2027-01-02"), agreed}}, "2027-01-13"));
  CHECK(outcome.agreed_kept == 1);  // five hours no longer fit into the two evenings left
  REQUIRE(outcome.moves.size() == 1);
  const Outcome early = replanned(stood(build, {{test::day("2027-01-02"), agreed}}, "2027-01-11"));
  CHECK(early.agreed_kept == 2);
  CHECK(early.moves.empty());
}
