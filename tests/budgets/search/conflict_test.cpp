#include "budgets/search/conflict.hpp"

#include <algorithm>

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::can_meet;
using testing::random_cases;
using testing::random_problem;

/// What an explanation claims is true, though it may claim little.
void check_explanation(const ProblemData& data, const Impossible& told) {
  CHECK_FALSE(can_meet(data, told.musts));
  if (told.irreducible) {
    for (const int left_out : told.musts) {
      std::vector<int> fewer;
      for (const int must : told.musts) {
        if (must != left_out) fewer.push_back(must);
      }
      CHECK(can_meet(data, fewer));
    }
  }
  if (!told.short_by) return;
  CHECK(told.cash);
  CHECK(can_meet(data, told.musts, told.short_by->minor()));
  CHECK_FALSE(can_meet(data, told.musts, told.short_by->minor() - 1));
}

TEST_CASE("wherever the steps of an explanation end nothing it claims is untrue") {
  int impossible = 0, open = 0, short_of_cash = 0;
  for (int seed = 0; impossible < random_cases(40) && seed < 20'000; ++seed) {
    const ProblemData data = random_problem(110'000 + seed, 6, 4);
    std::vector<int> musts;
    for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) {
      if (data.jobs[j].must) musts.push_back(j);
    }
    if (musts.empty() || can_meet(data, musts)) continue;
    ++impossible;
    const Problem problem(data);
    for (std::int64_t steps = 100; steps < 30'000'000; steps *= 2) {
      CAPTURE(seed);
      CAPTURE(steps);
      Meter meter(steps, nullptr);
      const Impossible told = explain(problem, little, steps / 4, meter);
      check_explanation(data, told);
      open += told.irreducible ? 0 : 1;
      short_of_cash += told.short_by ? 1 : 0;
    }
  }
  CHECK(std::min({impossible, open, short_of_cash}) > 0);
}

}  // namespace
}  // namespace fettlefund::budgets::search
