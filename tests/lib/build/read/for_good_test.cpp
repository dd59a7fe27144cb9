#include "lib/build/read/for_good.hpp"

#include <algorithm>

#include "lib/graph/work_order.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using test::BuildText;

constexpr const char* silencers =
    R"("silencers": {"name": "old silencers", "hours_off": 0.5, "hours_on": 1, "one_use": [{"article": "seal"}],
        "torques": [{"on": "clamps", "value": "20 Nm", "source": "invented"}], "on": ["Fit the old silencers"]},
     "high": {"name": "high silencers", "hours_off": 0.2, "hours_on": 0.3, "one_use": [{"article": "ring"}]},
     "wheel": {"name": "rear wheel", "hours_off": 0.5, "hours_on": 0.5, "needs": ["silencers"]})";
constexpr const char* shelf =
    R"("seal": {"name": "seal", "kind": "part", "offers": [{"supplier": "shop", "price": 5}]},
     "ring": {"name": "ring", "kind": "part", "offers": [{"supplier": "shop", "price": 7}]},
     "wrench": {"name": "torque wrench", "kind": "tool", "range": ["5 Nm", "100 Nm"]})";

BuildText with_jobs(const std::string& jobs) {
  BuildText text;
  text.articles = shelf;
  text.removals = silencers;
  text.jobs = jobs;
  text.more = R"(, "on_hand": [{"article": "wrench"}])";
  return text;
}

std::vector<std::string> closed(const build::Build& build, const std::string& job) {
  const auto found = std::find_if(build.jobs.begin(), build.jobs.end(),
                                  [&](const build::Job& one) { return one.id == job; });
  std::vector<int> direct;
  for (std::size_t r = 0; r < build.removals.size(); ++r) {
    const auto& ids = found->removals;
    if (std::find(ids.begin(), ids.end(), build.removals[r].id) != ids.end())
      direct.push_back(static_cast<int>(r));
  }
  std::vector<std::string> ids;
  for (const int r : graph::closed_over_needs(build, direct)) ids.push_back(build.removals[r].id);
  return ids;
}

}  // namespace

TEST_CASE("what a job takes off for good costs no hours or seals of putting back in its stage") {
  const build::Build build =
      with_jobs(R"("exhaust": {"name": "high exhaust", "want": 5, "hours": 1, "takes_off": ["silencers"]})")
          .read();
  CHECK(closed(build, "exhaust") == std::vector<std::string>{"silencers-for-good"});
  const auto outcome = test::planned(build);
  REQUIRE(outcome.stages[0].removals.size() == 1);
  CHECK(outcome.stages[0].removals[0].for_good);
  CHECK(outcome.stages[0].removals[0].name == "old silencers");
  CHECK(outcome.stages[0].minutes_used == 90);
  CHECK(outcome.stages[0].orders.empty());
  REQUIRE(outcome.stages[0].work.size() == 2);
  CHECK(outcome.stages[0].work[0].text == "Take off old silencers for good");
}

TEST_CASE("later jobs take off what was put on instead with its own hours and seals") {
  const build::Build build =
      with_jobs(
          R"("exhaust": {"name": "high exhaust", "want": 9, "hours": 9, "takes_off": ["silencers"],
                         "puts_on": ["high"]},
             "tyre": {"name": "tyre", "want": 5, "hours": 1, "removals": ["wheel"], "after": ["exhaust"]})")
          .read();
  CHECK(closed(build, "tyre") == std::vector<std::string>{"high", "wheel-then"});
  const auto outcome = test::planned(build);
  REQUIRE(outcome.stages[1].jobs.size() == 1);
  CHECK(outcome.stages[1].minutes_used == 60 + 60 + 30);
  REQUIRE(outcome.stages[1].orders.size() == 1);
  CHECK(outcome.stages[1].orders[0].lines[0].article == "ring");
  for (const auto& step : outcome.stages[1].work) CHECK(step.text.find("old silencers") == std::string::npos);
}

TEST_CASE("a job before it and a job with it meet what comes off for good") {
  const build::Build build =
      with_jobs(
          R"("bracket": {"name": "bracket", "want": 5, "hours": 1, "removals": ["wheel"]},
             "exhaust": {"name": "high exhaust", "want": 5, "hours": 1, "takes_off": ["silencers"],
                         "after": ["bracket"]},
             "hanger": {"name": "hanger", "want": 5, "hours": 1, "removals": ["silencers"], "with": ["exhaust"]})")
          .read();
  CHECK(closed(build, "bracket") == std::vector<std::string>{"silencers", "wheel"});
  CHECK(closed(build, "hanger") == std::vector<std::string>{"silencers-for-good"});
  const auto outcome = test::planned(build);
  for (const auto& stage : outcome.stages) {
    const bool gone = std::any_of(stage.removals.begin(), stage.removals.end(),
                                  [](const auto& removal) { return removal.for_good; });
    if (!gone) continue;
    for (const auto& step : stage.work) CHECK(step.text.find("Fit the old silencers") == std::string::npos);
  }
}

TEST_CASE("a job that uses it in no told order is pointed at") {
  const auto reading = build::read(
      with_jobs(
          R"("exhaust": {"name": "high exhaust", "want": 5, "hours": 1, "takes_off": ["silencers"]},
             "tyre": {"name": "tyre", "want": 5, "hours": 1, "removals": ["wheel"]})")
          .text(),
      "test.build");
  REQUIRE(reading.diagnostics.size() == 1);
  CHECK(reading.diagnostics[0].pointer == "/jobs/tyre");
  CHECK(
      reading.diagnostics[0].expected ==
      "\"after\" or \"with\" between this job and \"exhaust\", which takes \"silencers\" off for good: this "
      "one uses it, too");
}

TEST_CASE("one of two ways to replace a thing needs no order towards the other") {
  const build::Build build =
      with_jobs(
          R"("high": {"name": "high exhaust", "want": 5, "hours": 1, "takes_off": ["silencers"], "one_of": "exhaust"},
             "low": {"name": "low exhaust", "want": 4, "hours": 1, "takes_off": ["silencers"], "one_of": "exhaust"})")
          .read();
  CHECK(closed(build, "high") == closed(build, "low"));
}

TEST_CASE("what is put on is another removal than what comes off") {
  const auto reading =
      build::read(with_jobs(
                      R"("high": {"name": "high exhaust", "want": 5, "hours": 1, "takes_off": ["silencers"],
                      "puts_on": ["silencers"]},
             "low": {"name": "low exhaust", "want": 4, "hours": 1, "puts_on": ["high"]})")
                      .text(),
                  "test.build");
  REQUIRE(reading.diagnostics.size() == 2);
  CHECK(reading.diagnostics[0].expected == "another removal than the one taken off for good");
  CHECK(reading.diagnostics[1].expected == "\"takes_off\" beside it: what comes off for good");
}

TEST_CASE("steps fit and tighten only what their job or removal has") {
  const auto reading = build::read(
      with_jobs(
          R"("exhaust": {"name": "high exhaust", "want": 5, "hours": 1, "uses": [{"article": "ring"}],
             "torques": [{"on": "flange nuts", "value": "20 Nm", "source": "invented"}],
             "steps": [{"do": "Fit it", "fits": "seal"}, {"do": "Do it up", "tightens": "flange nut"}]})")
          .text(),
      "test.build");
  REQUIRE(reading.diagnostics.size() == 2);
  CHECK(reading.diagnostics[0].expected == "an article under \"uses\" of this job");
  CHECK(reading.diagnostics[1].expected == "the \"on\" of a torque of this job");
  CHECK(reading.diagnostics[1].nearest == "flange nuts");
}
