#include "budgets/what_if/frontier.hpp"

#include <algorithm>
#include <limits>

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using namespace testing;

constexpr std::int64_t highest = 30;

Problem with_amount(const Problem& problem, const FrontierQuestion& question, std::int64_t amount) {
  ProblemData data = problem.data();
  for (std::size_t t = 0; t < data.stages.size(); ++t) {
    data.stages[t].cash_in += cents((amount - question.now) * question.times[t]);
  }
  return Problem(std::move(data));
}

/// The best plans of every amount from 0 to `highest`, by enumeration.
std::vector<std::optional<Plan>> scan(const Problem& problem, const FrontierQuestion& question) {
  std::vector<std::optional<Plan>> best;
  for (std::int64_t amount = 0; amount <= highest; ++amount) {
    best.push_back(brute_force(with_amount(problem, question, amount)).best);
  }
  return best;
}

bool same(const std::optional<Plan>& a, const std::optional<Plan>& b) {
  return a && b ? compare(*a, *b) == 0 : !a && !b;
}

void check_points(const Frontier& found, const std::vector<std::optional<Plan>>& truth) {
  for (const FrontierPoint& point : found.points) {
    CAPTURE(point.amount);
    CHECK(point.proven);
    CHECK(same(point.plan, truth[static_cast<std::size_t>(point.amount)]));
    if (point.plan) CHECK(point.bound == point.plan->value);
  }
}

/// How many steps there are.
int check_steps(const Problem& problem, const FrontierQuestion& question, const Frontier& found,
                const std::vector<std::optional<Plan>>& truth) {
  CHECK(found.complete_from == question.amounts.front());
  std::vector<std::int64_t> told, true_steps;
  for (const FrontierStep& step : found.steps) told.push_back(step.amount);
  for (std::int64_t a = question.amounts.front() + 1; a <= question.amounts.back(); ++a) {
    const auto at = static_cast<std::size_t>(a);
    if (!same(truth[at], truth[at - 1])) true_steps.push_back(a);
  }
  CHECK(told == true_steps);
  for (const FrontierStep& step : found.steps) {
    CHECK(same(step.plan, truth[static_cast<std::size_t>(step.amount)]));
    CHECK(verify(with_amount(problem, question, step.amount), step.plan).empty());
  }
  return static_cast<int>(true_steps.size());
}

}  // namespace

TEST_CASE("amounts at which the best plan changes are those of a scan of every amount") {
  const int cases = random_cases(40);
  int steps = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(static_cast<std::uint64_t>(seed) + 120'000, 5, 3));
    Random random(static_cast<std::uint64_t>(seed));
    FrontierQuestion question;
    question.amounts = {0, random.between(1, 9), random.between(10, 20), highest};
    question.now = random.between(0, 40);
    for (int t = 0; t < problem.stage_count(); ++t)
      question.times.push_back(random.chance(80) ? 1 : random.below(3));
    Solver solver(problem);
    const Frontier found = frontier(solver, question);
    const auto truth = scan(problem, question);
    check_points(found, truth);
    steps += check_steps(problem, question, found, truth);
  }
  MESSAGE(steps << " changes in " << cases << " problems");
  CHECK(steps > cases / 2);
}

TEST_CASE("a frontier that is stopped claims no exact amounts and its limits hold") {
  const std::atomic<bool> stop = true;
  for (int seed = 0; seed < 20; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(static_cast<std::uint64_t>(seed) + 130'000, 5, 3));
    FrontierQuestion question;
    question.amounts = {5, 15, highest};
    question.times.assign(static_cast<std::size_t>(problem.stage_count()), 1);
    question.stop = &stop;
    Solver solver(problem);
    const Frontier found = frontier(solver, question);
    for (const FrontierPoint& point : found.points) {
      const auto best = brute_force(with_amount(problem, question, point.amount)).best;
      if (point.proven) {
        CHECK(same(best, point.plan));
        continue;
      }
      if (best) CHECK(point.bound >= best->value);
      if (point.plan) CHECK(verify(with_amount(problem, question, point.amount), *point.plan).empty());
    }
    if (!found.points.back().proven) CHECK_FALSE(found.complete_from);
  }
}

/// The least amount that is enough for the plan as it is bought, where the amount comes in on every payday.
std::int64_t least_as_bought(const Problem& problem, const FrontierQuestion& question, const Plan& plan) {
  std::int64_t least = std::numeric_limits<std::int64_t>::min();
  Money cash = problem.data().opening;
  for (int t = 0; t < problem.stage_count(); ++t) {
    const Stage& stage = problem.data().stages[static_cast<std::size_t>(t)];
    cash += stage.cash_in - plan.stages[static_cast<std::size_t>(t)].spent;
    const std::int64_t spare = (cash - stage.floor).minor();
    const std::int64_t each = spare >= 0 ? spare / (t + 1) : -((-spare + t) / (t + 1));
    least = std::max(least, question.now - each);
  }
  return least;
}

/// Steps of amounts that are said to be complete are the true ones; no bound is below the truth.
void check_open(const Frontier& found, const std::vector<std::optional<Plan>>& truth) {
  for (const FrontierPoint& point : found.points) {
    const auto& best = truth[static_cast<std::size_t>(point.amount)];
    if (point.proven) CHECK(same(point.plan, best));
    if (best) CHECK(point.bound >= best->value);
  }
  std::vector<std::int64_t> told, true_steps;
  if (!found.complete_from) return;
  for (const FrontierStep& step : found.steps) {
    if (step.amount > *found.complete_from) told.push_back(step.amount);
  }
  for (std::int64_t a = *found.complete_from + 1; a <= highest; ++a) {
    const auto at = static_cast<std::size_t>(a);
    if (!same(truth[at], truth[at - 1])) true_steps.push_back(a);
  }
  CHECK(told == true_steps);
}

TEST_CASE("wherever the steps of a frontier end nothing it tells is untrue") {
  int open = 0, whole = 0;
  for (int seed = 0; seed < random_cases(40) / 4 + 1; ++seed) {
    const Problem problem(random_problem(static_cast<std::uint64_t>(seed) + 125'045, 5, 3));
    FrontierQuestion question;
    question.amounts = {0, 8, 16, highest};
    question.times.assign(static_cast<std::size_t>(problem.stage_count()), 1);
    const auto truth = scan(problem, question);
    for (std::int64_t steps = 1'000; steps < 5'000'000; steps += steps / 2) {
      CAPTURE(seed);
      CAPTURE(steps);
      question.steps_each = steps;
      Solver solver(problem);
      const Frontier found = frontier(solver, question);
      check_open(found, truth);
      ++(found.complete_from == question.amounts.front() ? whole : open);
    }
  }
  CHECK(std::min(open, whole) > 0);
}

TEST_CASE("over fifteen amounts more money is never worth less, however little was searched") {
  const int cases = random_cases(30);
  int open = 0, rises = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(static_cast<std::uint64_t>(seed) + 140'000, 12, 5));
    FrontierQuestion question;
    for (std::int64_t amount = 2; amount <= highest; amount += 2) question.amounts.push_back(amount);
    question.times.assign(static_cast<std::size_t>(problem.stage_count()), 1);
    question.steps_each = 300'000 + 100'000 * (seed % 7);
    question.steps = 0;
    Solver solver(problem);
    const Frontier found = frontier(solver, question);
    REQUIRE(found.points.size() == 15);
    for (std::size_t i = 0; i < found.points.size(); ++i) {
      const FrontierPoint& point = found.points[i];
      open += point.proven ? 0 : 1;
      if (point.plan) CHECK(point.bound >= point.plan->value);
      if (i > 0 && (point.plan || !point.proven)) CHECK(found.points[i - 1].bound <= point.bound);
      for (const FrontierPoint& other : found.points) {
        if (!other.plan || point.amount < least_as_bought(problem, question, *other.plan)) continue;
        REQUIRE(point.plan.has_value());
        CHECK(point.plan->value >= other.plan->value);
      }
      if (i == 0 || !found.points[i - 1].plan) continue;
      REQUIRE(point.plan.has_value());
      CHECK(point.plan->value >= found.points[i - 1].plan->value);
      rises += point.plan->value > found.points[i - 1].plan->value ? 1 : 0;
      CHECK(verify(with_amount(problem, question, point.amount), *point.plan).empty());
    }
  }
  CHECK(open > 0);
  CHECK(rises > 0);
}

TEST_CASE("the least amount that is enough for a schedule counts how often the amount comes in") {
  ProblemData data = plain_stages(3);  // 100 in each
  data.jobs.push_back(plain_job(data, 5, 500));
  const Problem problem(data);
  FrontierQuestion question;
  question.now = 100;
  question.times = {1, 1, 1};
  CHECK(least_amount(problem, question, {{2}, {}}) == 167);
  CHECK(least_amount(problem, question, {{0}, {}}) == 500);
  question.times = {0, 1, 1};
  CHECK(least_amount(problem, question, {{2}, {}}) == 200);
  CHECK_FALSE(least_amount(problem, question, {{0}, {}}));
}

}  // namespace fettlefund::budgets
