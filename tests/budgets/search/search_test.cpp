#include "budgets/search/layers/search.hpp"

#include <algorithm>

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

// Runs of the layers alone: no descent has found a good plan before, so that what is left out decides.

namespace fettlefund::budgets::search {
namespace {

using testing::cents;

constexpr std::int64_t all_money = std::numeric_limits<std::int64_t>::max() / 4;

/// What one run of at most `width` rows a layer within `steps` says; `known` is offered to it before.
struct Run {
  Outcome outcome;
  std::optional<Found> best;

  Run(const Problem& problem, std::size_t width, std::int64_t steps, const std::optional<Plan>& known = {}) {
    const Model model(problem);
    const Relaxed relaxed(model);
    Bounder bounder(relaxed, 1000);
    Meter meter(steps, nullptr);
    Search search(model, relaxed, bounder, meter);
    if (known) search.offer({known->schedule, {known->value, all_money, 1 << 30}});
    outcome = search.run(width, all_money, known.has_value());
    best = search.best();
  }
};

struct RunCount {
  int exhausted = 0, cut = 0;
};

/// A run may leave plans out, but neither its bound nor its word that it looked at all of them.
void check_run(const Run& run, const std::optional<Plan>& truth, RunCount& count) {
  ++(run.outcome.exhausted ? count.exhausted : count.cut);
  if (!truth) return;
  CHECK(run.outcome.bound >= truth->value);
  if (!run.outcome.exhausted) return;
  REQUIRE(run.best);
  CHECK(run.best->rank.value == truth->value);
}

/// The same for a run that knows the best value and looks for less money and time.
void check_ties(const Run& run, const Plan& truth, RunCount& count) {
  ++(run.outcome.exhausted ? count.exhausted : count.cut);
  CHECK(run.best->rank.value == truth.value);
  if (!run.outcome.exhausted) return;
  CHECK(run.best->rank.spent == truth.spent.minor());
  CHECK(run.best->rank.minutes == truth.minutes);
}

TEST_CASE("what a run of few rows leaves out its bound allows for") {
  RunCount values, ties;
  for (int seed = 0; seed < testing::random_cases(100); ++seed) {
    const Problem problem(testing::random_problem(800'000 + seed, 7, 4));
    const auto truth = testing::brute_force(problem).best;
    for (const std::size_t width : {1, 2, 4, 16}) {
      CAPTURE(seed);
      CAPTURE(width);
      check_run(Run(problem, width, 1'000'000'000), truth, values);
      if (truth) check_ties(Run(problem, width, 1'000'000'000, truth), *truth, ties);
    }
  }
  CHECK(std::min({values.exhausted, values.cut, ties.exhausted, ties.cut}) > 0);
}

/// Runs that end after ever more steps.
void run_with_all_steps(int seed, RunCount& values, RunCount& ties) {
  const Problem problem(testing::random_problem(900'000 + seed, 7, 4));
  const auto truth = testing::brute_force(problem).best;
  for (std::int64_t steps = 1'000; steps < 2'000'000; steps += steps / 2) {
    CAPTURE(seed);
    CAPTURE(steps);
    check_run(Run(problem, 1000, steps), truth, values);
    if (truth) check_ties(Run(problem, 1000, steps, truth), *truth, ties);
  }
}

TEST_CASE("wherever the steps of a run end its bound allows for what was not looked at") {
  RunCount values, ties;
  // Steps that end just behind a row; a delivery that only the last stage can share.
  for (const int seed : {246, 326}) run_with_all_steps(seed, values, ties);
  for (int seed = 0; seed < testing::random_cases(100); ++seed) run_with_all_steps(seed, values, ties);
  CHECK(std::min({values.exhausted, values.cut, ties.exhausted, ties.cut}) > 0);
}

/// Fourteen tools that the job of the first stage hires or buys. The job of the second uses the last of them:
/// hired twice it is too dear, so that it has to be bought.
ProblemData many_tools() {
  ProblemData data = testing::plain_stages(2);
  data.suppliers = {{}};
  data.jobs = {testing::plain_job(data, 1, 0, 600), testing::plain_job(data, 5, 0, 600)};
  data.jobs[1].earliest = 1;
  for (int k = 0; k < 14; ++k) {
    data.tools.push_back({{}, {{0, cents(30), 0, {}, {}}}, cents(1)});
    data.jobs[0].tools.push_back(k);
  }
  data.jobs[1].tools = {13};
  data.tools[13].hire = cents(20);
  data.opening = Money();
  data.stages[0].cash_in = cents(43);
  data.stages[1].cash_in = Money();
  return data;
}

TEST_CASE("more tools to hire or buy than are looked at in every choice are not called done") {
  const Problem problem(many_tools());
  Schedule both;
  both.stage_of = {0, 1};
  both.tool_bought.assign(14, -1);
  both.tool_bought[13] = 0;
  const auto plan = cost(problem, both);
  REQUIRE(std::holds_alternative<Plan>(plan));
  const std::int64_t value = std::get<Plan>(plan).value;
  const Run run(problem, 1000, 1'000'000'000);
  CHECK(run.outcome.bound >= value);
  CHECK((!run.outcome.exhausted || run.best->rank.value == value));
}

}  // namespace
}  // namespace fettlefund::budgets::search
