#include "budgets/what_if/what_if.hpp"

#include <algorithm>
#include <set>

#include "budgets/what_if/least.hpp"
#include "tests/budgets/support/all_plans.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using namespace testing;

/// The least extra cash with which some best plan has the job by `stage`; -1: never. By the definition alone:
/// as the cash grows plans become possible one after another, and the best of those so far is looked at.
std::int64_t least_that_moves(const std::vector<PricedPlan>& plans, int job, int stage) {
  std::set<std::int64_t> amounts;
  for (const PricedPlan& one : plans) amounts.insert(one.extra);
  for (const std::int64_t amount : amounts) {
    const Plan *best = nullptr, *placed = nullptr;
    for (const PricedPlan& one : plans) {
      if (one.extra > amount) continue;
      const int at = one.plan.schedule.stage_of[static_cast<std::size_t>(job)];
      if (!best || compare(one.plan, *best) > 0) best = &one.plan;
      if (at >= 0 && at <= stage && (!placed || compare(one.plan, *placed) > 0)) placed = &one.plan;
    }
    if (placed && compare(*placed, *best) == 0) return amount;
  }
  return -1;
}

/// The least extra cash with which some plan has the job by `stage` and is no worse than `than`; -1: never.
std::int64_t least_as_good(const std::vector<PricedPlan>& plans, int job, int stage, const Plan& than) {
  std::int64_t least = -1;
  for (const PricedPlan& one : plans) {
    const int at = one.plan.schedule.stage_of[static_cast<std::size_t>(job)];
    if (at < 0 || at > stage || compare(one.plan, than) < 0) continue;
    least = least < 0 ? one.extra : std::min(least, one.extra);
  }
  return least;
}

std::int64_t least_that_allows(const std::vector<PricedPlan>& plans, int job, int stage) {
  std::int64_t least = -1;
  for (const PricedPlan& one : plans) {
    if (one.plan.schedule.stage_of[static_cast<std::size_t>(job)] != stage) continue;
    least = least < 0 ? one.extra : std::min(least, one.extra);
  }
  return least;
}

void check_least(const Least& found, std::int64_t truth) {
  if (truth < 0) {
    CHECK(found.never);
    return;
  }
  CHECK_FALSE(found.never);
  REQUIRE(found.exact());
  CHECK(*found.at_most == truth);
}

bool works(const ProblemData& data, int job, int stage, const std::vector<Hold>& holds, int freed = -1) {
  const auto has = [&](Hold hold) { return std::find(holds.begin(), holds.end(), hold) != holds.end(); };
  ProblemData changed = lifted(data, holds);
  for (std::size_t j = 0; j < changed.jobs.size(); ++j) {
    if (has(Hold::musts) || static_cast<int>(j) == freed) changed.jobs[j].must = false;
  }
  Job& own = changed.jobs[static_cast<std::size_t>(job)];
  const int latest = own.latest < 0 ? static_cast<int>(changed.stages.size()) - 1 : own.latest;
  if (stage < own.earliest || stage > latest) return false;
  own.earliest = own.latest = stage;
  own.must = true;
  return brute_force(Problem(std::move(changed))).best.has_value();
}

/// The first rule in order that does alone, and all others that do.
void check_holds(const ProblemData& data, int job, const AtStage& at) {
  REQUIRE(at.holds_proven);
  std::vector<Hold> alone;
  for (int h = 0; h < hold_count; ++h) {
    if (works(data, job, at.stage, {static_cast<Hold>(h)})) alone.push_back(static_cast<Hold>(h));
  }
  REQUIRE_FALSE(at.holds.empty());
  CHECK(works(data, job, at.stage, at.holds));
  if (!alone.empty()) {
    std::vector<Hold> told = at.holds;
    told.insert(told.end(), at.others.begin(), at.others.end());
    CHECK(told == alone);
    if (at.in_the_way >= 0) CHECK(works(data, job, at.stage, {}, at.in_the_way));
    return;
  }
  CHECK(at.holds.size() > 1);
  for (std::size_t i = 0; i < at.holds.size(); ++i) {
    std::vector<Hold> fewer = at.holds;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    CHECK_FALSE(works(data, job, at.stage, fewer));
  }
}

/// No set of two is missed where three or more are told.
void check_smallest(const ProblemData& data, int job, const AtStage& at) {
  if (at.holds.size() < 3) return;
  for (int a = 0; a < hold_count; ++a) {
    for (int b = a + 1; b < hold_count; ++b) {
      CHECK_FALSE(works(data, job, at.stage, {static_cast<Hold>(a), static_cast<Hold>(b)}));
    }
  }
}

const Plan* best_of(const std::vector<PricedPlan>& plans,
                    const std::function<bool(const PricedPlan&)>& counts) {
  const Plan* best = nullptr;
  for (const PricedPlan& one : plans) {
    if (counts(one) && (!best || compare(one.plan, *best) > 0)) best = &one.plan;
  }
  return best;
}

void check_stage(const Problem& problem, const std::vector<PricedPlan>& plans, const Plan& plan, int job,
                 const AtStage& at) {
  CAPTURE(job);
  CAPTURE(at.stage);
  const Plan* there = best_of(plans, [&](const PricedPlan& one) {
    return one.extra == 0 && one.plan.schedule.stage_of[static_cast<std::size_t>(job)] == at.stage;
  });
  CHECK(at.possible == (there ? Possible::yes : Possible::no));
  if (there) {
    REQUIRE(at.plan);
    CHECK(at.plan->value == there->value);
    CHECK(at.bound == there->value);
  } else {
    check_holds(problem.data(), job, at);
    check_smallest(problem.data(), job, at);
  }
  check_least(at.cash.allows, least_that_allows(plans, job, at.stage));
  check_least(at.cash.as_good, least_as_good(plans, job, at.stage, plan));
  check_least(at.cash.best, least_that_moves(plans, job, at.stage));
}

/// The problem with more minutes in one stage.
Problem with_minutes(const Problem& problem, int stage, std::int64_t minutes) {
  ProblemData data = problem.data();
  data.stages[static_cast<std::size_t>(stage)].minutes += minutes;
  return Problem(std::move(data));
}

/// Whether some best plan of the problem has the job by `stage`.
bool best_has(const Problem& problem, int job, int stage) {
  const auto plans = all_plans(problem);
  const Plan* best = best_of(plans, [](const PricedPlan& one) { return one.extra == 0; });
  const Plan* placed = best_of(plans, [&](const PricedPlan& one) {
    const int at = one.plan.schedule.stage_of[static_cast<std::size_t>(job)];
    return one.extra == 0 && at >= 0 && at <= stage;
  });
  return placed && compare(*placed, *best) == 0;
}

void check_minutes(const Problem& problem, int job, const AtStage& at) {
  const Least& found = at.minutes.best;
  if (found.never) {
    CHECK_FALSE(best_has(with_minutes(problem, at.stage, 100'000), job, at.stage));
    return;
  }
  REQUIRE(found.exact());
  CHECK(best_has(with_minutes(problem, at.stage, *found.at_most), job, at.stage));
  for (std::int64_t less : {*found.at_most - 1, *found.at_most / 2, std::int64_t{0}}) {
    if (less < 0 || less == *found.at_most) continue;
    CHECK_FALSE(best_has(with_minutes(problem, at.stage, less), job, at.stage));
  }
}

void check_problem(const Problem& problem) {
  Solver solver(problem);
  const Result result = solver.solve();
  const auto* proven = std::get_if<Proven>(&result);
  if (!proven) return;
  REQUIRE(proven->ties_proven);
  const auto plans = all_plans(problem);
  for (int j = 0; j < problem.job_count(); ++j) {
    const Why told = why(solver, proven->plan, true, j);
    for (const AtStage& at : told.stages) {
      check_stage(problem, plans, proven->plan, j, at);
      check_minutes(problem, j, at);
    }
  }
}

/// What is told of a least amount allows for the truth, however little was asked; -1: no amount is enough.
void check_open_least(const Least& found, std::int64_t truth) {
  if (found.never || found.at_most) CHECK(found.never == (truth < 0));
  if (truth < 0) return;
  CHECK(found.at_least <= truth);
  if (found.at_most) CHECK(*found.at_most >= truth);
}

void check_open_minutes(const Problem& problem, int job, const AtStage& at) {
  const Least& found = at.minutes.best;
  if (found.never) CHECK_FALSE(best_has(with_minutes(problem, at.stage, 100'000), job, at.stage));
  if (found.at_most) CHECK(best_has(with_minutes(problem, at.stage, *found.at_most), job, at.stage));
  if (found.at_least > 0)
    CHECK_FALSE(best_has(with_minutes(problem, at.stage, found.at_least - 1), job, at.stage));
}

/// Nothing that is told of the stage is untrue, though questions may be open.
void check_open_stage(const Problem& problem, const std::vector<PricedPlan>& plans, const Plan& plan, int job,
                      const AtStage& at) {
  CAPTURE(job);
  CAPTURE(at.stage);
  const Plan* there = best_of(plans, [&](const PricedPlan& one) {
    return one.extra == 0 && one.plan.schedule.stage_of[static_cast<std::size_t>(job)] == at.stage;
  });
  if (at.possible != Possible::unknown) CHECK((at.possible == Possible::yes) == (there != nullptr));
  if (at.plan && there) {
    CHECK(at.plan->value <= there->value);
    CHECK(at.bound >= there->value);
  }
  if (at.possible == Possible::no && at.holds_proven) {
    check_holds(problem.data(), job, at);
    check_smallest(problem.data(), job, at);
  } else if (!at.holds.empty()) {
    CHECK(works(problem.data(), job, at.stage, at.holds));
  }
  check_open_least(at.cash.allows, least_that_allows(plans, job, at.stage));
  check_open_least(at.cash.as_good, least_as_good(plans, job, at.stage, plan));
  check_open_least(at.cash.best, least_that_moves(plans, job, at.stage));
  check_open_minutes(problem, job, at);
}

/// How many stages were told with a question open.
int check_with_steps(const Problem& problem, const Plan& plan, bool proven,
                     const std::vector<PricedPlan>& plans, std::int64_t steps) {
  int open = 0;
  Solver solver(problem);
  for (int j = 0; j < problem.job_count(); ++j) {
    WhyOptions options;
    options.steps = steps;
    for (const AtStage& at : why(solver, plan, proven, j, options).stages) {
      check_open_stage(problem, plans, plan, j, at);
      if (proven && at.plan) CHECK(at.bound <= plan.value);
      open += !at.holds_proven || at.possible == Possible::unknown ? 1 : 0;
    }
  }
  return open;
}

}  // namespace

TEST_CASE("what holds a job and what would move it agree with enumeration on random problems") {
  const int cases = random_cases(40);
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    check_problem(Problem(random_problem(static_cast<std::uint64_t>(seed) + 90'000, 4, 3)));
  }
}

TEST_CASE("wherever the steps of the questions about a job end nothing told is untrue") {
  int open = 0;
  for (int seed = 0; seed < random_cases(40) / 4 + 1; ++seed) {
    const Problem problem(random_problem(static_cast<std::uint64_t>(seed) + 95'016, 4, 3));
    const Result result = solve(problem);
    const auto* proven = std::get_if<Proven>(&result);
    if (!proven) continue;
    const auto plans = all_plans(problem);
    for (std::int64_t steps = 2'000; steps < 100'000'000; steps *= 4) {
      CAPTURE(seed);
      CAPTURE(steps);
      open += check_with_steps(problem, proven->plan, seed % 2 == 0, plans, steps);
    }
  }
  CHECK(open > 0);
}

TEST_CASE("the least that is enough is found wherever it lies") {
  for (const std::int64_t truth : {0, 1, 2, 7, 99, 100}) {
    const auto ask = [&](std::int64_t amount) -> Reply {
      return amount >= truth ? Reply{Possible::yes, amount} : Reply{Possible::no, 0};
    };
    const Least least = least_enough(ask, {}, 100);
    CHECK(least.exact());
    CHECK(*least.at_most == truth);
  }
  const auto never = [](std::int64_t) -> Reply { return {Possible::no, 0}; };
  CHECK(least_enough(never, {}, 100).never);
  const auto open = [](std::int64_t amount) -> Reply {
    return amount >= 60 ? Reply{Possible::yes, amount} : Reply{Possible::unknown, 0};
  };
  const Least least = least_enough(open, {}, 100);
  CHECK_FALSE(least.exact());
  CHECK(least.at_least == 0);
  CHECK(*least.at_most >= 60);
}

}  // namespace fettlefund::budgets
