#include "budgets/contradiction.hpp"

#include "budgets/search/reduced.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using testing::can_meet;
using testing::random_cases;
using testing::random_problem;

/// With bench time that never binds and as much money as any small problem can spend.
ProblemData without_scarcity(ProblemData data) {
  for (Stage& stage : data.stages) stage.minutes = 1'000'000;
  data.opening += Money::of_minor(1'000'000'000);
  return data;
}

std::vector<int> musts_of(const ProblemData& data) {
  std::vector<int> musts;
  for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) {
    if (data.jobs[static_cast<std::size_t>(j)].must) musts.push_back(j);
  }
  return musts;
}

TEST_CASE("musts contradict each other exactly where no money and no hours would let them be done") {
  const int cases = random_cases(200);
  int seen = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const ProblemData data = random_problem(300'000 + seed, 6, 4);
    const std::vector<int> musts = musts_of(data), told = contradicting_musts(Problem(data));
    const ProblemData rich = without_scarcity(data);
    if (!can_meet(rich, {})) continue;  // not the musts' fault
    CHECK(told.empty() == (musts.empty() || can_meet(rich, musts)));
    if (told.empty()) continue;
    ++seen;
    CHECK_FALSE(can_meet(rich, told));
    for (std::size_t i = 0; i < told.size(); ++i) {
      std::vector<int> rest = told;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      CHECK(can_meet(rich, rest));
    }
  }
  CHECK(seen > 0);
}

TEST_CASE("leaving out jobs that cannot matter changes nothing about what can be met") {
  const int cases = random_cases(200);
  int smaller = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const ProblemData data = without_scarcity(random_problem(400'000 + seed, 6, 4));
    for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) {
      const search::Reduced reduced = search::reduce(data, {j});
      if (reduced.jobs.size() < data.jobs.size()) ++smaller;
      int own = 0;
      while (reduced.jobs[static_cast<std::size_t>(own)] != j) ++own;
      CHECK(can_meet(data, {j}) == can_meet(reduced.data, {own}));
    }
  }
  CHECK(smaller > 0);
}

}  // namespace
}  // namespace fettlefund::budgets
