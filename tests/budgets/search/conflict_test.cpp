#include "budgets/search/conflict.hpp"

#include <algorithm>

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

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

TEST_CASE("two ways that differ by a minor unit are told apart in what is missing") {
  for (const int dearer : {0, 1}) {
    CAPTURE(dearer);
    ProblemData data = testing::plain_stages(2);
    for (Stage& stage : data.stages) stage.cash_in = Money();
    data.suppliers = {{}};
    data.articles = {{}};
    data.articles[0].offers = {{0, Money::of_minor(100 + dearer), 0, {}, data.stages[0].payday},
                               {0, Money::of_minor(101 - dearer), 0, data.stages[1].payday, {}}};
    data.jobs = {testing::plain_job(data, 1)};
    data.jobs[0].needs = {{0, 1000}};
    data.jobs[0].must = true;
    Meter meter(1'000'000'000, nullptr);
    const Impossible told = explain(Problem(data), little, 100'000'000, meter);
    REQUIRE(told.short_by);
    CHECK(told.short_by->minor() == 100);
  }
}

TEST_CASE("a must that other goods bring to free delivery can be met") {
  ProblemData data = testing::plain_stages(1);  // 100 comes in
  data.suppliers = {{Money::of_minor(10), Money::of_minor(100)}};
  for (const int price : {95, 5}) {
    data.articles.emplace_back().offers = {{0, Money::of_minor(price), 0, {}, {}}};
    data.jobs.push_back(testing::plain_job(data, 1));
    data.jobs.back().needs = {{static_cast<int>(data.articles.size()) - 1, 1000}};
  }
  Meter meter(1'000'000'000, nullptr);
  Feasible feasible(data, little, 100'000'000, meter);
  CHECK(feasible.ask({0}).answer == Answer::yes);
  data.jobs.pop_back();
  CHECK(feasible.ask({0}).answer == Answer::no);
}

TEST_CASE("the stage of a contradiction is the first in which one of its musts has to be done") {
  for (const int first : {0, 1}) {
    CAPTURE(first);
    ProblemData data = testing::plain_stages(3);  // 100 in each
    data.jobs = {testing::plain_job(data, 1, 250), testing::plain_job(data, 1, 250)};
    for (Job& job : data.jobs) job.must = true;
    data.jobs[static_cast<std::size_t>(first)].latest = 1;
    data.opening = Money::of_minor(50);
    Meter meter(1'000'000'000, nullptr);
    const Impossible told = explain(Problem(data), little, 100'000'000, meter);
    CHECK(told.musts == std::vector{0, 1});
    CHECK(told.stage == 1);
  }
}

}  // namespace
}  // namespace fettlefund::budgets::search
