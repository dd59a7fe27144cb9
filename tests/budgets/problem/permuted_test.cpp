#include <algorithm>

#include "budgets/solve.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/renamed.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using testing::brute_force;
using testing::can_meet;
using testing::first_random_case;
using testing::Random;
using testing::random_cases;
using testing::random_problem;
using testing::renamed;

// Baskets that cost the same are told apart by the order in which offers are written, and what a basket
// leaves can matter later on: so the best plan may differ. Then either must be the best as it is written.

void check_best(const ProblemData& data, const Plan& plan) {
  const auto truth = brute_force(Problem(data)).best;
  REQUIRE(truth);
  CHECK(compare(plan, *truth) == 0);
}

void check_missing(const ProblemData& data, const Impossible& found) {
  REQUIRE(found.short_by);
  CHECK(can_meet(data, found.musts, found.short_by->minor()));
  CHECK_FALSE(can_meet(data, found.musts, found.short_by->minor() - 1));
}

/// There may be several irreducible sets; what is missing is compared where both are the same.
bool same_missing(const Impossible& a, const Impossible& b, const std::vector<int>& job_to) {
  std::vector<int> musts;
  for (int j : a.musts) musts.push_back(job_to[j]);
  std::sort(musts.begin(), musts.end());
  return musts != b.musts || a.short_by == b.short_by;
}

/// Every case draws from a generator of its own, so that a run can begin anywhere. True if the two agree.
bool check_permuted(int seed) {
  Random random(seed);
  const ProblemData data = random_problem(400'000 + seed, 9, 4);
  const auto other = renamed(data, random);
  const Result a = solve(Problem(data));
  const Result b = solve(Problem(other.data));
  REQUIRE(a.index() == b.index());
  REQUIRE_FALSE(std::holds_alternative<Stopped>(a));
  if (const auto* proven = std::get_if<Proven>(&a)) {
    const Plan& plan = std::get<Proven>(b).plan;
    if (compare(proven->plan, plan) == 0) return true;
    check_best(data, proven->plan);
    check_best(other.data, plan);
    return false;
  }
  const auto& one = std::get<Impossible>(a);
  const auto& two = std::get<Impossible>(b);
  if (same_missing(one, two, other.job_to)) return true;
  check_missing(data, one);
  check_missing(other.data, two);
  return false;
}

TEST_CASE(
    "in whatever order a problem is written its best plan is as good, but for baskets that cost the same") {
  const int cases = random_cases(60);
  int different = 0;
  for (int seed = first_random_case(); seed < cases; ++seed) {
    CAPTURE(seed);
    different += check_permuted(seed) ? 0 : 1;
  }
  MESSAGE(different << " differ");
  CHECK(different <= 1 + cases / 5000);
}

TEST_CASE("where the best plan depends on the order written it is the best either way") {
  for (const int seed : {39865, 70544}) {
    CAPTURE(seed);
    CHECK_FALSE(check_permuted(seed));
  }
}

}  // namespace
}  // namespace fettlefund::budgets
