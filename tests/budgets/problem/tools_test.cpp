#include "budgets/problem/tools.hpp"

#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

Plan plan_of(const ProblemData& data, const Schedule& schedule) {
  const auto result = cost(Problem(data), schedule);
  if (const auto* broken = std::get_if<std::vector<Violation>>(&result)) FAIL(broken->front().what);
  return std::get<Plan>(result);
}

/// Whether all that the schedule breaks is the rule of tools, once, in stage 0.
bool lacks_tool(const ProblemData& data, const Schedule& schedule, int index) {
  const auto result = cost(Problem(data), schedule);
  const auto* broken = std::get_if<std::vector<Violation>>(&result);
  return broken != nullptr && broken->size() == 1 && broken->front().rule == Rule::tool &&
         broken->front().stage == 0 && broken->front().index == index;
}

/// Jobs 0 and 1 want 20 and 80 of a torque: tool 0 does the first, tool 1 the second, tool 2 both.
ProblemData three_wrenches() {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1), plain_job(data, 1)};
  data.jobs[0].any_tools = {{0, 2}};
  data.jobs[1].any_tools = {{1, 2}};
  data.suppliers = {{}};
  for (const int price : {30, 40, 50}) data.tools.push_back({{}, {{0, cents(price), 0, {}, {}}}, {}});
  return data;
}

TEST_CASE("of a set of tools any one will do") {
  ProblemData data = three_wrenches();
  CHECK(plan_of(data, {{0, 0}, {-1, -1, 0}}).spent == cents(50));
  CHECK(plan_of(data, {{0, 0}, {0, 0, -1}}).spent == cents(70));
  CHECK(lacks_tool(data, {{0, 0}, {0, -1, -1}}, -1));
  CHECK(plan_of(data, {{0, -1}, {0, -1, -1}}).spent == cents(30));
  CHECK(lacks_tool(data, {{0, -1}, {0, 0, -1}}, 1));  // bought for nothing
  data.tools[1].free = {0, 1};
  CHECK(plan_of(data, {{0, 1}, {0, -1, -1}}).spent == cents(30));  // the other is borrowed in stage 1
  data.jobs[0].tools = {2};
  CHECK(plan_of(data, {{0, 0}, {-1, -1, 0}}).spent == cents(50));
}

TEST_CASE("for sets of tools the cheapest are hired that will do for all of them") {
  ProblemData data = three_wrenches();
  data.tools[0].hire = cents(3);
  data.tools[1].hire = cents(4);
  data.tools[2].hire = cents(6);
  const Plan both = plan_of(data, {{0, 0}, {-1, -1, -1}});
  CHECK(both.spent == cents(6));
  CHECK(both.stages[0].hired == std::vector<int>{2});
  CHECK(plan_of(data, {{0, 1}, {-1, -1, -1}}).spent == cents(7));
  data.tools[2].hire = cents(7);
  CHECK(plan_of(data, {{0, 0}, {-1, -1, -1}}).stages[0].hired == std::vector<int>{2});  // fewer
  CHECK(plan_of(data, {{0, 0}, {0, -1, -1}}).stages[0].hired == std::vector<int>{1});
}

TEST_CASE("a usual tool serves as many sets as may be for its cost") {
  const ProblemData data = three_wrenches();
  CHECK(usual_tools(data, {{0, 2}, {1, 2}}) == std::vector<int>{2, 2});
  CHECK(usual_tools(data, {{0, 2}}) == std::vector<int>{0});
}

}  // namespace
