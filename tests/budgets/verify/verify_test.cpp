#include "tests/budgets/verify/verify_sample.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::budgets;
using namespace fettlefund::budgets::sample;

TEST_CASE("the sample plan is accepted and is what its rules give by hand") {
  const Plan& plan = sample::plan();
  CHECK(faults(sample::problem(), plan).empty());
  // Stage 0: article 2 from supplier 0 costs 150 + 500 delivery. With article 0 from there too it is 2650;
  // with article 0 from supplier 1 (1900 + 300 delivery) it is 2850. Article 1: stage 0 needs 350, covered by
  // the lots of 300 and 100. Stage 1 needs 1200 and has 50: two packs, ordered on payday 0 as they take 20
  // days.
  REQUIRE(plan.orders.size() == 3);
  CHECK(plan.orders[0].goods == cents(2150));
  CHECK(plan.orders[0].delivery == cents(500));
  CHECK(plan.orders[1].goods == cents(1800));
  CHECK(plan.orders[1].stage == 0);
  CHECK(plan.orders[2].goods == cents(1500));
  CHECK(plan.orders[2].stage == 1);
  // Hire of tool 0 in stage 0 and of tool 1 (free in stage 0 only) in stage 1; 10 % on 5550 and 2450.
  CHECK(plan.stages[0].spent == cents(2150 + 500 + 1800 + 300 + 700 + 100 + 555));
  CHECK(plan.stages[1].spent == cents(1500 + 300 + 400 + 250 + 245));
  CHECK(plan.stages[1].cash_after == cents(5000 + 20000 - 6105 - 2695));
  CHECK(plan.stages[0].opened == std::vector<int>{0, 1});
  CHECK(plan.value == 30 + 40 + 9 + 6 - 2 * (90 + 30));
  CHECK(plan.minutes == 120 + 90 + 100 + 20 + 90 + 30);
}

TEST_CASE("a plan that does nothing is accepted") {
  ProblemData data = sample::problem();
  data.jobs[1].must = false;
  CHECK(faults(data, costed(data, {{-1, -1, -1, -1, -1}, {-1, -1}})).empty());
}

TEST_CASE("other schedules of the sample are accepted") {
  for (const int with_tool : {-1, 0, 1})
    for (const int j3 : {-1, 2}) {
      ProblemData data = sample::problem();
      data.one_of.clear();
      CHECK(faults(data, costed(data, {{0, 1, 0, j3, 1}, {with_tool, -1}})).empty());
      CHECK(faults(data, costed(data, {{1, 1, 1, j3, 1}, {with_tool == 0 ? -1 : with_tool, -1}})).empty());
      CHECK(faults(data, costed(data, {{0, 2, 0, j3, 2}, {with_tool == 1 ? 2 : with_tool, -1}})).empty());
    }
}

// Each of the following makes the problem stricter in one rule, which the unchanged plan then breaks.

TEST_CASE("a job before its first stage is found") {
  const auto findings = with_problem([](ProblemData& d) { d.jobs[0].earliest = 1; });
  check_only(findings, Rule::window);
  CHECK(has(findings, Rule::window, 0, 0));
}

TEST_CASE("a job after its last stage is found") {
  check_only(with_problem([](ProblemData& d) { d.jobs[1].latest = 0; }), Rule::window);
}

TEST_CASE("a must that is left out is found") {
  const auto findings = with_problem([](ProblemData& d) { d.jobs[3].must = true; });
  check_only(findings, Rule::must);
  CHECK(has(findings, Rule::must, -1, 3));
}

TEST_CASE("a job before the one it comes after is found") {
  check_only(with_problem([](ProblemData& d) {
               d.jobs[1].after.clear();
               d.jobs[0].after = {4};
             }),
             Rule::order);
}

TEST_CASE("a job that comes after one left out is found") {
  check_only(with_problem([](ProblemData& d) { d.jobs[4].after = {3}; }), Rule::order);
}

TEST_CASE("two jobs of a group of which one may be done are found") {
  check_only(with_problem([](ProblemData& d) { d.one_of.push_back({0, 3, 1}); }), Rule::one_of);
}

TEST_CASE("jobs of a group in different stages are found") {
  check_only(with_problem([](ProblemData& d) { d.together.push_back({0, 4}); }), Rule::together);
}

TEST_CASE("a group of which only some jobs are done is found") {
  check_only(with_problem([](ProblemData& d) { d.together.push_back({3, 0}); }), Rule::together);
  check_only(with_problem([](ProblemData& d) { d.together.push_back({0, 3}); }), Rule::together);
}

TEST_CASE("one minute too many is found and the exact minutes are not") {
  CHECK(with_problem([](ProblemData& d) { d.stages[0].minutes = 310; }).empty());
  const auto findings = with_problem([](ProblemData& d) { d.stages[0].minutes = 309; });
  check_only(findings, Rule::hours);
  CHECK(has(findings, Rule::hours, 0, -1));
}

TEST_CASE("one cent under the floor is found with what is short") {
  const Money left = sample::plan().stages[1].cash_after;
  CHECK(with_problem([&](ProblemData& d) { d.stages[1].floor = left; }).empty());
  const auto findings = with_problem([&](ProblemData& d) { d.stages[1].floor = left + cents(1); });
  check_only(findings, Rule::cash);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].stage == 1);
  CHECK(findings[0].amount == cents(1));
}

TEST_CASE("carriers that disagree on a key are found in every stage") {
  const auto findings = with_problem([](ProblemData& d) { d.carriers[4].mates = {{7, 1}}; });
  check_only(findings, Rule::mate);
  CHECK(has(findings, Rule::mate, 1, 7));
  CHECK(has(findings, Rule::mate, 2, 7));
  CHECK_FALSE(has(findings, Rule::mate, 0, 7));
}

TEST_CASE("a clash without its adaptation is found until a job removes one side") {
  auto findings = with_problem([](ProblemData& d) { d.clashes[0].adapted_by.clear(); });
  check_only(findings, Rule::clash);
  CHECK(findings.size() == 3);
  findings = with_problem([](ProblemData& d) {
    d.clashes[0].adapted_by.clear();
    d.carriers[4].replaced_by = {4};
  });
  check_only(findings, Rule::clash);
  CHECK(findings.size() == 1);
  CHECK(has(findings, Rule::clash, 0, 0));
}

TEST_CASE("a carrier stays where what takes it off was done before it came") {
  const auto taken_off_by = [](int job) {
    return with_problem([job](ProblemData& d) {
      d.carriers[1].replaced_by = {job};
      d.carriers[4].mates = {{7, 1}};
    });
  };
  check_only(taken_off_by(0), Rule::mate);  // a stage before what brings it
  CHECK(taken_off_by(4).empty());           // in the same stage
}

TEST_CASE("a tool that is used but cannot be hired is found") {
  CHECK(has(with_problem([](ProblemData& d) { d.tools[0].hire.reset(); }), Rule::tool, 0, 0));
  CHECK(has(with_problem([](ProblemData& d) { d.tools[1].hire.reset(); }), Rule::tool, 1, 1));
}

TEST_CASE("a tool bought for a stage that does not use it is found") {
  const auto findings = with_problem([](ProblemData& d) { d.jobs[1].tools.clear(); });
  check_only(findings, Rule::tool);
  CHECK(findings.size() == 1);
  CHECK(has(findings, Rule::tool, 1, 0));
  ProblemData data = sample::problem();
  const Plan plan = costed(data, {{0, 1, 0, -1, 1}, {0, -1}});
  data.jobs[0].tools.clear();
  CHECK(has(faults(data, plan), Rule::tool, 0, 0));
}

TEST_CASE("a tool hired where it is free is found") {
  CHECK(has(with_problem([](ProblemData& d) { d.tools[1].free = {1, 1, 0}; }), Rule::accounts, 1, -1));
}

TEST_CASE("a tool said to be bought but not ordered is found") {
  CHECK(has(with_plan([](Plan& p) { p.orders.pop_back(); }), Rule::tool, 1, 0));
}

TEST_CASE("a tool ordered but not said to be bought is found") {
  CHECK(has(with_plan([](Plan& p) { p.schedule.tool_bought[0] = -1; }), Rule::accounts, 1, 0));
}
