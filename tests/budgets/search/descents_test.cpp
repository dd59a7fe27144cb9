#include "budgets/search/local/descents.hpp"

#include <limits>
#include <set>

#include "budgets/problem/check.hpp"
#include "budgets/solve.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::cents;
using testing::plain_stages;
using testing::random_cases;
using testing::random_problem;

/// Twelve stages of 256.00 altogether besides so much at the start.
ProblemData with_opening(std::int64_t opening) {
  ProblemData data = plain_stages(12);
  for (Stage& stage : data.stages) stage.cash_in = cents(25'600);
  data.opening = cents(opening);
  return data;
}

TEST_CASE(
    "descents are made for cash on a grid - one step above what there is and the others down from there") {
  // 3072.00 and what there is at the start: at most a 256th of it apart, 10.24.
  CHECK(cash_levels(with_opening(1'000), 4) == std::vector<std::int64_t>{1'024, 0, -1'024, -2'048});
  CHECK(cash_levels(with_opening(1'023), 4) == cash_levels(with_opening(0), 4));
  CHECK(cash_levels(with_opening(1'024), 3) == std::vector<std::int64_t>{2'048, 1'024, 0});
  CHECK(cash_levels(with_opening(-1), 2) == std::vector<std::int64_t>{0, -1'024});
  CHECK(cash_levels(with_opening(-1'024), 2) == std::vector<std::int64_t>{0, -1'024});
}

TEST_CASE("a single descent has the cash there is") {
  CHECK(cash_levels(with_opening(1'000), 1) == std::vector<std::int64_t>{1'000});
  CHECK(cash_levels(with_opening(1'000), 0) == std::vector<std::int64_t>{1'000});
}

TEST_CASE("a little cash has a grid of one minor unit, and near the limit of amounts there is none") {
  ProblemData data = plain_stages(1);
  data.opening = cents(3);
  CHECK(cash_levels(data, 3) == std::vector<std::int64_t>{4, 3, 2});
  data.opening = cents(Limits::money - 100);
  CHECK(cash_levels(data, 3) == std::vector<std::int64_t>{Limits::money - 100});
}

TEST_CASE("four steps of 4.00 share all but the first and last of six levels") {
  std::set<std::vector<std::int64_t>> met;
  for (std::int64_t opening = 50'000; opening <= 51'600; opening += 400) {
    const auto levels = cash_levels(with_opening(opening), 6);
    const auto start = cash_levels(with_opening(50'000), 6);
    std::set<std::int64_t> both(levels.begin(), levels.end());
    both.insert(start.begin(), start.end());
    CHECK(both.size() <= 8);
    met.insert(levels);
  }
  CHECK(met.size() == 3);
}

/// The problem with so much more cash at the start.
Problem richer(const Problem& problem, std::int64_t more) {
  ProblemData data = problem.data();
  data.opening += cents(more);
  return Problem(std::move(data));
}

std::optional<Found> annealed(const Problem& problem, std::int64_t more, std::int64_t steps = 1'000'000) {
  Meter meter(1'000'000'000, nullptr);
  const Model model(problem);
  return Annealer(model, meter, more).run(steps, 1, {20, 10});
}

TEST_CASE("a plan annealed with other cash than there is keeps every rule with what there is") {
  int found_some = 0;
  for (int seed = 0; seed < random_cases(150); ++seed) {
    const Problem problem(random_problem(seed, 12, 6));
    for (const int more : {-40, -5, 7, 60}) {
      CAPTURE(seed);
      CAPTURE(more);
      const auto found = annealed(problem, more);
      if (!found) continue;
      ++found_some;
      const Problem true_one = richer(problem, more);
      const auto costed = cost(true_one, found->schedule);
      REQUIRE(std::holds_alternative<Plan>(costed));
      const Plan& plan = std::get<Plan>(costed);
      CHECK(plan.value == found->rank.value);
      CHECK(plan.spent.minor() <= found->rank.spent);
      CHECK(verify(true_one, plan).empty());
    }
  }
  CHECK(found_some > 0);
}

/// How often the value falls from one to the next.
int falls_of(const std::vector<std::optional<Found>>& found) {
  int falls = 0;
  std::int64_t before = std::numeric_limits<std::int64_t>::min();
  for (const auto& one : found) {
    const std::int64_t value = one ? one->rank.value : std::numeric_limits<std::int64_t>::min();
    falls += value < before ? 1 : 0;
    before = value;
  }
  return falls;
}

TEST_CASE(
    "of one descent more cash takes plans worth less far less often than descents for each cash find such") {
  int shared = 0, alone = 0;
  for (int seed = 0; seed < random_cases(10); ++seed) {
    const Problem problem(random_problem(seed, 20, 8));
    std::vector<std::optional<Found>> of_one, of_each;
    for (int more = -20; more <= 20; more += 4) {
      of_one.push_back(annealed(problem, more, 4'000'000));
      of_each.push_back(annealed(richer(problem, more), 0, 4'000'000));
    }
    shared += falls_of(of_one);
    alone += falls_of(of_each);
  }
  MESSAGE(shared << " falls, " << alone << " of descents for each");
  if (random_cases(10) < 10) return;  // too few to compare
  CHECK(2 * shared < alone);
}

TEST_CASE("what is bought for cash that a descent did not have is told as what it costs") {
  ProblemData data = plain_stages(1);
  data.stages[0].cash_in = {};
  data.opening = cents(1'000);
  data.jobs = {testing::plain_job(data, 5, 900), testing::plain_job(data, 4, 800)};
  const Problem problem(data);
  const auto as_it_is = annealed(problem, 0);
  REQUIRE(as_it_is);
  CHECK(as_it_is->rank.value == 5);
  const auto with_more = annealed(problem, 700);
  REQUIRE(with_more);
  CHECK(with_more->rank.value == 9);
  CHECK(with_more->rank.spent == 1'700);
  const auto with_less = annealed(problem, -200);
  REQUIRE(with_less);
  CHECK(with_less->rank.value == 4);
}

}  // namespace
}  // namespace fettlefund::budgets::search
