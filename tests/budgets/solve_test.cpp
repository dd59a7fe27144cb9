#include "budgets/solve.hpp"

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using testing::brute_force;
using testing::random_cases;
using testing::random_problem;

/// Compares a result with the true optimum, all three measures.
void check_against(const Problem& problem, const Result& result) {
  const auto truth = brute_force(problem);
  if (!truth.best) {
    CHECK(std::holds_alternative<Impossible>(result));
    return;
  }
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(proven->plan.value == truth.best->value);
  CHECK(proven->plan.spent == truth.best->spent);
  CHECK(proven->plan.minutes == truth.best->minutes);
}

TEST_CASE("solve finds the plan that enumeration finds best on random problems over all rules") {
  const int cases = random_cases(300);
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 7, 4));
    check_against(problem, solve(problem));
  }
}

}  // namespace
}  // namespace fettlefund::budgets
