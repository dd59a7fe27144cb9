#include "budgets/solve.hpp"

#include <algorithm>
#include <atomic>
#include <limits>

#include "tests/budgets/support/against_enumeration.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/plain_best.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using testing::brute_force;
using testing::can_meet;
using testing::check_against;
using testing::check_solve;
using testing::first_random_case;
using testing::plain_job;
using testing::plain_stages;
using testing::random_cases;
using testing::random_problem;

void check_conflict(const ProblemData& data, const Impossible& found) {
  CHECK(found.irreducible);
  CHECK_FALSE(can_meet(data, found.musts));
  for (std::size_t i = 0; i < found.musts.size(); ++i) {
    std::vector<int> rest = found.musts;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
    CHECK(can_meet(data, rest));
  }
  constexpr std::int64_t plenty = 1'000'000'000;
  CHECK(found.cash == can_meet(data, found.musts, plenty));
  if (!found.cash) return;
  REQUIRE(found.short_by);
  CHECK(can_meet(data, found.musts, found.short_by->minor()));
  CHECK_FALSE(can_meet(data, found.musts, found.short_by->minor() - 1));
}

TEST_CASE("solve finds the plan that enumeration finds best on random problems over all rules") {
  const int cases = random_cases(150);
  for (int seed = first_random_case(); seed < cases; ++seed) {
    CAPTURE(seed);
    check_solve(Problem(random_problem(seed, 9, 4)));
  }
}

TEST_CASE("solve proves what enumeration finds best of up to seven jobs in up to four stages") {
  const int cases = random_cases(150);
  for (int seed = first_random_case(); seed < cases; ++seed) {
    CAPTURE(seed);
    check_solve(Problem(random_problem(3'000'000 + seed, 7, 4)));
  }
}

TEST_CASE("a bound on the way is never below the plan in hand") {
  for (const int seed : {46054, 46719, 56805, 69463}) {
    CAPTURE(seed);
    check_solve(Problem(random_problem(seed, 9, 4)));
  }
}

TEST_CASE("a tool that is free now is bought where its order draws other goods to a payday with money") {
  check_solve(Problem(random_problem(202'225, 9, 4)));
}

TEST_CASE("solve agrees with enumeration on problems of up to ten jobs and five stages") {
  const int cases = random_cases(200) / 20;
  for (int seed = first_random_case() / 20; seed < cases; ++seed) {
    CAPTURE(seed);
    check_solve(Problem(random_problem(1'000'000 + seed, 10, 5)));
  }
}

TEST_CASE("what is mended for good is done before what takes it off") {
  ProblemData data = testing::plain_stages(3);
  for (const std::int64_t want : {3, 1, 1}) data.jobs.push_back(testing::plain_job(data, want, 0, 400));
  data.jobs[1].must = data.jobs[2].must = true;
  // Job 0 fits wide bars, job 1 the old narrow ones again; job 2 fits what goes with wide bars only.
  data.carriers = {{-1, {0}, {{0, 22}}}, {0, {1}, {{0, 28}}}, {1, {0}, {{0, 22}}}, {2, {}, {{0, 28}}}};
  const Result result = solve(Problem(data));
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(proven->plan.schedule.stage_of == std::vector<int>{1, 0, 2});
}

TEST_CASE("jobs to be done together of which one alone may be done are left out") {
  ProblemData data = plain_stages(2);
  data.jobs.assign(3, plain_job(data, 5));
  data.together = {{0, 1}};
  data.one_of = {{0, 1}};
  const Result result = solve(Problem(data));
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(proven->plan.schedule.stage_of == std::vector{-1, -1, 0});
}

TEST_CASE("one tool that will do for two jobs is bought where two do not fit the money") {
  ProblemData data = testing::plain_stages(1);
  data.stages[0].cash_in = testing::cents(60);
  data.jobs = {testing::plain_job(data, 1), testing::plain_job(data, 1)};
  data.jobs[0].must = data.jobs[1].must = true;
  data.jobs[0].any_tools = {{0, 2}};
  data.jobs[1].any_tools = {{1, 2}};
  data.suppliers = {{}};
  for (const int price : {30, 40, 50})
    data.tools.push_back({{}, {{0, testing::cents(price), 0, {}, {}}}, {}});
  const Result result = solve(Problem(data));
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(proven->plan.schedule.tool_bought == std::vector<int>{-1, -1, 0});
}

TEST_CASE("solve finds what trying every stage, tool, offer and payday finds without any costing") {
  int compared = 0;
  const int first = first_random_case(), cases = random_cases(40);
  for (int seed = first; seed < cases; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(2'000'000 + seed, 4, 3));
    bool all = false;
    const auto truth = testing::plain_best(problem, all);
    if (!all) continue;
    ++compared;
    const Result result = solve(problem);
    REQUIRE(std::holds_alternative<Proven>(result) == truth.has_value());
    if (!truth) continue;
    const Plan& plan = std::get<Proven>(result).plan;
    CHECK(testing::PlainBest{plan.value, plan.spent.minor(), plan.minutes} == *truth);
  }
  CHECK(compared * 10 >= (cases - first) * 9);
}

TEST_CASE("quick effort proves small problems too") {
  for (int seed = 0; seed < 40; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 6, 4));
    SolveOptions options;
    options.effort = Effort::quick;
    check_against(problem, solve(problem, options));
  }
}

/// Too large to be proven at quick effort, and its goods have to be shopped for.
Problem large_problem() { return Problem(random_problem(92, 30, 10)); }

TEST_CASE("a plan found before is offered first, so a search stopped at once ends no worse") {
  Solver solver(large_problem());
  SolveOptions options;
  options.effort = Effort::quick;
  const Result before = solver.solve(options);
  REQUIRE(std::holds_alternative<Stopped>(before));
  REQUIRE(plan_of(before) != nullptr);
  const std::atomic<bool> stop = true;
  options.stop = &stop;
  const Result after = solver.solve(options);
  REQUIRE(plan_of(after) != nullptr);
  CHECK(compare(*plan_of(after), *plan_of(before)) == 0);
}

TEST_CASE("the plan and the bound of a lower effort count for the next") {
  SolveOptions options;
  options.effort = Effort::quick;
  const Result quick = solve(large_problem(), options);
  const auto* low = std::get_if<Stopped>(&quick);
  REQUIRE(low != nullptr);
  REQUIRE(low->plan.has_value());
  std::atomic<bool> stop = false;
  int told = 0;
  options.effort = Effort::normal;
  options.stop = &stop;
  options.on_progress = [&](const Progress& progress) {
    if (progress.work.steps <= low->work.steps) return;
    ++told;
    CHECK(progress.value >= low->plan->value);
    stop = true;
  };
  const Result normal = solve(large_problem(), options);
  CHECK(told > 0);
  const auto* high = std::get_if<Stopped>(&normal);
  REQUIRE(high != nullptr);
  REQUIRE(high->plan.has_value());
  CHECK(compare(*high->plan, *low->plan) >= 0);
  CHECK(high->bound <= low->bound);
  CHECK(high->work.steps > low->work.steps);
}

TEST_CASE("a quick solve that ends without a plan goes on at normal effort where it is asked to") {
  ProblemData data = random_problem(70, 12, 5);
  for (Job& job : data.jobs) job.must = false;
  data.jobs[0].must = true;
  SolveOptions options;
  options.effort = Effort::quick;
  options.steps = 1;
  REQUIRE(plan_of(solve(Problem(data), options)) == nullptr);
  options.until_a_plan = true;
  const Result result = solve(Problem(data), options);
  const Result normal = solve(Problem(data));
  REQUIRE(plan_of(result) != nullptr);
  REQUIRE(plan_of(normal) != nullptr);
  CHECK(compare(*plan_of(result), *plan_of(normal)) == 0);
}

TEST_CASE("what cannot be met together is irreducible and the missing cash is exact") {
  const int cases = random_cases(250);
  int seen = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const ProblemData data = random_problem(100'000 + seed, 6, 4);
    const Result result = solve(Problem(data));
    const auto* impossible = std::get_if<Impossible>(&result);
    if (impossible == nullptr) continue;
    check_conflict(data, *impossible);
    ++seen;
  }
  CHECK(seen > 0);
}

TEST_CASE("solve gives the same plan and the same work twice") {
  for (int seed = 0; seed < 30; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 9, 5));
    const Result a = solve(problem);
    const Result b = solve(problem);
    REQUIRE(a.index() == b.index());
    const auto* first = std::get_if<Proven>(&a);
    if (first == nullptr) continue;
    const auto& second = std::get<Proven>(b);
    CHECK(first->plan.schedule.stage_of == second.plan.schedule.stage_of);
    CHECK(first->plan.schedule.tool_bought == second.plan.schedule.tool_bought);
    CHECK(first->work.steps == second.work.steps);
    CHECK(first->work.states == second.work.states);
  }
}

TEST_CASE("a solve told to stop at once gives a plan that passes or none, and a bound that holds") {
  std::atomic<bool> stop = true;
  SolveOptions options;
  options.stop = &stop;
  for (int seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 7, 4));
    const auto truth = brute_force(problem);
    const Result result = solve(problem, options);
    const auto* stopped = std::get_if<Stopped>(&result);
    if (stopped == nullptr || !truth.best) continue;
    CHECK(stopped->bound >= truth.best->value);
    if (stopped->plan) CHECK(stopped->plan->value <= truth.best->value);
  }
}

TEST_CASE("every bound shown on the way is at least the value of the best plan") {
  for (int seed = 0; seed < 150; ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(7'000 + seed, 7, 4));
    std::vector<std::int64_t> bounds;
    SolveOptions options;
    std::optional<std::int64_t> last;
    options.on_progress = [&](const Progress& progress) {
      bounds.push_back(progress.bound);
      CHECK((!last || (progress.value && *progress.value >= *last)));
      last = progress.value;
    };
    const Result result = solve(problem, options);
    const auto* proven = std::get_if<Proven>(&result);
    if (proven == nullptr) continue;
    for (std::int64_t bound : bounds) CHECK(bound >= proven->plan.value);
  }
}

TEST_CASE("a solver asked again with more cash or other placements gives the true optimum each time") {
  const int cases = random_cases(300) / 5;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    const ProblemData data = random_problem(20'000 + seed, 6, 4);
    const int stages = static_cast<int>(data.stages.size());
    Solver solver{Problem(data)};
    check_against(solver.problem(), solver.solve());
    testing::Random random(seed);
    for (int again = 0; again < 3; ++again) {
      const int job = random.below(static_cast<int>(data.jobs.size()));
      SolveOptions options;
      options.extra_cash = Money::of_minor(random.between(-20, 40));
      options.placements = {{job, random.below(stages), stages - 1, random.chance(30)}};
      ProblemData changed = data;
      changed.opening += options.extra_cash;
      Job& moved = changed.jobs[job];
      moved.earliest = std::max(moved.earliest, options.placements[0].first);
      moved.must |= options.placements[0].must;
      check_against(Problem(changed), solver.solve(options));
    }
  }
}

/// Many jobs, little money: nothing that is proven soon.
ProblemData long_haul() {
  ProblemData data;
  testing::Random random(3);
  data.opening = Money::of_minor(40'000);
  for (int t = 0; t < 18; ++t) {
    data.stages.push_back({Date{30 * t}, Date{30 * t + 5}, Money::of_minor(30'000), {}, 600});
  }
  for (int j = 0; j < 60; ++j) {
    Job job;
    const std::int64_t want = random.between(1, 10);
    for (int t = 0; t < 18; ++t) job.worth.push_back(want * (18 - t));
    job.cost = Money::of_minor(random.between(1'000, 30'000));
    job.minutes = random.between(20, 300);
    if (j > 0 && random.chance(40)) job.after = {random.below(j)};
    data.jobs.push_back(job);
  }
  return data;
}

TEST_CASE("a solve that is stopped on the way ends soon with a plan and a bound") {
  const Problem problem(long_haul());
  std::atomic<bool> stop = false;
  std::int64_t steps = 0;
  SolveOptions options;
  options.stop = &stop;
  options.on_progress = [&](const Progress& progress) {
    if (progress.layer < 3 || stop) return;
    stop = true;
    steps = progress.work.steps;
  };
  const Result result = solve(problem, options);
  const auto* stopped = std::get_if<Stopped>(&result);
  REQUIRE(stopped != nullptr);
  REQUIRE(stopped->plan);
  CHECK(verify(problem, *stopped->plan).empty());
  CHECK(stopped->plan->value > 0);
  CHECK(stopped->bound >= stopped->plan->value);
  CHECK(stopped->work.steps - steps < 100'000'000);
}

TEST_CASE("a placement can leave a job out") {
  const ProblemData data = random_problem(3, 6, 4);
  Solver solver{Problem(data)};
  for (int job = 0; job < static_cast<int>(data.jobs.size()); ++job) {
    if (data.jobs[job].must) continue;
    SolveOptions options;
    options.placements = {{job, 1, 0, false}};
    const Result result = solver.solve(options);
    if (const auto* proven = std::get_if<Proven>(&result)) CHECK(proven->plan.schedule.stage_of[job] == -1);
  }
  SolveOptions wrong;
  wrong.placements = {{-1, 0, -1, false}};
  CHECK_THROWS_AS(solver.solve(wrong), std::invalid_argument);
}

}  // namespace
}  // namespace fettlefund::budgets
