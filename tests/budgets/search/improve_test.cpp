#include "budgets/search/local/improve.hpp"

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::brute_force;
using testing::random_cases;
using testing::random_problem;

constexpr std::int64_t enough_steps = 3'000'000;

std::optional<Found> improved(const Model& model, std::int64_t steps) {
  Meter meter(steps, nullptr);
  const Relaxed relaxed(model);
  return Improver(relaxed, meter).improve(nullptr, steps);
}

TEST_CASE("a plan that the improver finds costs what it says and keeps every rule") {
  int found_some = 0;
  for (int seed = 0; seed < random_cases(300); ++seed) {
    const Problem problem(random_problem(seed, 12, 6));
    const Model model(problem);
    const auto found = improved(model, enough_steps / 10);
    if (!found) continue;
    ++found_some;
    const auto costed = cost(problem, found->schedule);
    CAPTURE(seed);
    REQUIRE(std::holds_alternative<Plan>(costed));
    const Plan& plan = std::get<Plan>(costed);
    CHECK(plan.value == found->rank.value);
    CHECK(plan.spent.minor() <= found->rank.spent);  // bought in the best way, not stage by stage
    CHECK(plan.minutes == found->rank.minutes);
    CHECK(verify(problem, plan).empty());
  }
  CHECK(found_some > 0);
}

TEST_CASE("the improver finds the best value of four in five small problems and never more") {
  int possible = 0;
  int best = 0;
  for (int seed = 1000; seed < 1000 + random_cases(100); ++seed) {
    const Problem problem(random_problem(seed, 7, 4));
    const auto truth = brute_force(problem);
    const auto found = improved(Model(problem), enough_steps);
    CAPTURE(seed);
    if (!truth.best) {
      CHECK_FALSE(found.has_value());
      continue;
    }
    ++possible;
    if (!found) continue;
    CHECK(found->rank.value <= truth.best->value);
    best += found->rank.value == truth.best->value ? 1 : 0;
  }
  CHECK(best * 10 >= possible * 8);
}

TEST_CASE("the improver finds the same plan each time") {
  const Problem problem(random_problem(7, 12, 6));
  const Model model(problem);
  const auto once = improved(model, enough_steps);
  const auto again = improved(model, enough_steps);
  REQUIRE(once.has_value() == again.has_value());
  if (once) CHECK(once->schedule.stage_of == again->schedule.stage_of);
}

}  // namespace
}  // namespace fettlefund::budgets::search
