#pragma once

#include <variant>
#include <vector>

#include "budgets/costing/costing.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::testing {

using namespace budgets;

/// What the schedule costs; fails the case where it breaks a rule.
inline Plan plan_of(const ProblemData& data, const Schedule& schedule) {
  const auto result = cost(Problem(data), schedule);
  if (const auto* broken = std::get_if<std::vector<Violation>>(&result)) FAIL(broken->front().what);
  return std::get<Plan>(result);
}

/// The rules that the schedule breaks.
inline std::vector<Violation> broken_by(const ProblemData& data, const Schedule& schedule) {
  const auto result = cost(Problem(data), schedule);
  return std::holds_alternative<Plan>(result) ? std::vector<Violation>{}
                                              : std::get<std::vector<Violation>>(result);
}

/// The same goods and jobs without any rule that could refuse a schedule, goods and tools apart.
inline ProblemData freed(ProblemData data) {
  data.opening = cents(1'000'000);
  for (Stage& stage : data.stages) stage.floor = {}, stage.minutes = 100'000;
  for (Job& job : data.jobs) job.after.clear(), job.earliest = 0, job.latest = -1, job.must = false;
  for (Tool& tool : data.tools) tool.hire = tool.hire.value_or(Money());
  data.carriers.clear();
  data.clashes.clear();
  data.one_of.clear();
  data.together.clear();
  return data;
}

}  // namespace fettlefund::testing
