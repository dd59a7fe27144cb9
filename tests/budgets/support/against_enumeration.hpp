#pragma once
#include <algorithm>
#include <cstdint>
#include <limits>
#include <variant>

#include "budgets/solve.hpp"
#include "tests/budgets/support/brute_force.hpp"

#include <doctest/doctest.h>

namespace fettlefund::testing {

/// Compares a result with the true optimum, all three measures.
inline void check_against(const budgets::Problem& problem, const budgets::Result& result) {
  const auto truth = brute_force(problem);
  if (!truth.best) {
    CHECK(std::holds_alternative<budgets::Impossible>(result));
    return;
  }
  const auto* proven = std::get_if<budgets::Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(proven->ties_proven);
  CHECK(proven->plan.value == truth.best->value);
  CHECK(proven->plan.spent.minor() == truth.best->spent.minor());
  CHECK(proven->plan.minutes == truth.best->minutes);
}

/// Solves with an eye on the way: plan and verifier agree with enumeration, and no bound shown is too low.
inline void check_solve(const budgets::Problem& problem) {
  std::int64_t lowest = std::numeric_limits<std::int64_t>::max();
  budgets::SolveOptions options;
  options.on_progress = [&](const budgets::Progress& progress) { lowest = std::min(lowest, progress.bound); };
  const budgets::Result result = budgets::solve(problem, options);
  check_against(problem, result);
  const auto* proven = std::get_if<budgets::Proven>(&result);
  if (proven == nullptr) return;
  CHECK(budgets::verify(problem, proven->plan).empty());
  CHECK(lowest >= proven->plan.value);
}

}  // namespace fettlefund::testing
