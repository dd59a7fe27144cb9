#include "budgets/search/attempt.hpp"

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::brute_force;
using testing::random_cases;
using testing::random_problem;

/// What an attempt says may be incomplete, never wrong.
void check_honest(const Verdict& verdict, const std::optional<Plan>& truth) {
  if (!truth) {
    CHECK_FALSE(verdict.best);
    return;
  }
  CHECK(verdict.bound >= truth->value);
  if (verdict.best) CHECK(verdict.best->rank.value <= truth->value);
  if (!verdict.proven) return;
  REQUIRE(verdict.best);
  CHECK(verdict.best->rank.value == truth->value);
  if (!verdict.ties_proven) return;
  CHECK(verdict.best->rank.spent == truth->spent.minor());
  CHECK(verdict.best->rank.minutes == truth->minutes);
}

struct Count {
  int proven = 0;
  int open = 0;
};

Count attempt_all(int first_seed, int cases, const Size& size, std::int64_t steps) {
  Count count;
  for (int seed = first_seed; seed < first_seed + cases; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 7, 4));
    Meter meter(steps, nullptr);
    const Verdict verdict = Attempt(problem, size, meter).optimise();
    check_honest(verdict, brute_force(problem).best);
    ++(verdict.proven ? count.proven : count.open);
  }
  return count;
}

TEST_CASE("without any sets listed the search proves the same best plans") {
  const int cases = random_cases(200);
  CHECK(attempt_all(500'000, cases, {0, 100'000}, 1'000'000'000).open == 0);
}

TEST_CASE("a search that may keep only two partial plans a layer is honest about what it left out") {
  const int cases = random_cases(200);
  const Count count = attempt_all(600'370, cases, {1000, 2}, 1'000'000'000);
  CHECK(count.proven > 0);
}

TEST_CASE("a search whose steps run out gives a bound that holds") {
  int open = 0;
  for (std::int64_t steps : {1'000, 30'000, 300'000}) {
    open += attempt_all(700'000, random_cases(100), {1000, 1000}, steps).open;
  }
  CHECK(open > 0);
}

TEST_CASE("an attempt told what is enough stops there or shows that it cannot be had") {
  for (int seed = 0; seed < 100; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 7, 4));
    const auto truth = brute_force(problem).best;
    if (!truth) continue;
    Meter meter(1'000'000'000, nullptr);
    const Verdict can = Attempt(problem, {}, meter).reach(truth->value);
    REQUIRE(can.best);
    CHECK(can.best->rank.value >= truth->value);
    const Verdict cannot = Attempt(problem, {}, meter).reach(truth->value + 1);
    CHECK((cannot.proven || cannot.bound <= truth->value));
  }
}

}  // namespace
}  // namespace fettlefund::budgets::search
