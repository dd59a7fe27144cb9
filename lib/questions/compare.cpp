#include "lib/questions/compare.hpp"

#include <algorithm>
#include <memory>

#include "lib/questions/conflict.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

/// One build on its way to a column.
struct Trial {
  const build::Build* build;
  Staging staging;
  budgets::Solver solver;
  budgets::Result result;

  Trial(const build::Build& from, Staging staged)
      : build(&from), staging(std::move(staged)), solver(budgets::Problem(staging.problem)) {}

  const budgets::Plan* plan() const { return budgets::plan_of(result); }
};

using Trials = std::vector<std::unique_ptr<Trial>>;

/// Solves one after another; each knows the plans of those before it.
void solve(Trials& trials, budgets::SolveOptions options) {
  for (const auto& trial : trials) {
    trial->result = trial->solver.solve(options);
    if (const budgets::Plan* plan = trial->plan()) options.known.push_back(plan->schedule);
  }
}

/// Plans found later may do for those before.
void share(Trials& trials) {
  for (const auto& to : trials) {
    auto* stopped = std::get_if<budgets::Stopped>(&to->result);
    if (stopped == nullptr) continue;
    for (const auto& from : trials) {
      if (from->plan() == nullptr) continue;
      const auto costed = budgets::cost(to->solver.problem(), from->plan()->schedule);
      const auto* plan = std::get_if<budgets::Plan>(&costed);
      if (plan && (!stopped->plan || budgets::compare(*plan, *stopped->plan) > 0)) stopped->plan = *plan;
    }
  }
}

std::int64_t kept_worth(const Trial& trial, const budgets::Plan& plan) {
  std::int64_t sum = 0;
  for (std::size_t j = 0; j < trial.build->jobs.size(); ++j) {
    const int stage = plan.schedule.stage_of[j];
    for (const build::Agreed& agreed : trial.build->agreement.jobs) {
      const bool kept = agreed.job == trial.build->jobs[j].id && stage >= 0 &&
                        stage_on(trial.staging, agreed.bench) == stage;
      if (kept) sum += keep_worth(trial.build->agreement);
    }
  }
  return sum;
}

void fill(CompareColumn& column, const Trial& trial, const budgets::Plan& plan, std::int64_t bound) {
  const std::int64_t kept = kept_worth(trial, plan);
  column.planned = true;
  column.value_want_days = (plan.value - kept) / worth_per_want_day;
  column.bound_want_days =
      column.proof == Proof::proven ? column.value_want_days : want_days_at_most(bound - kept);
  column.spent = plan.spent;
  column.left = plan.stages.back().cash_after;
  column.minutes = plan.minutes;
  for (const int stage : plan.schedule.stage_of) {
    column.jobs_done += stage >= 0 ? 1 : 0;
    column.stage_of.push_back(stage < 0 ? 0 : trial.build->money.stages_over + stage + 1);
    if (stage < 0) continue;
    const Date bench = trial.staging.problem.stages[static_cast<std::size_t>(stage)].bench;
    column.finish = std::max(column.finish.value_or(bench), bench);
  }
}

CompareColumn column_of(const Trial& trial, const std::string& title, const budgets::SolveOptions& options) {
  CompareColumn column;
  column.title = title;
  column.stage_of.clear();
  if (const auto* impossible = std::get_if<budgets::Impossible>(&trial.result)) {
    column.impossible = true;
    column.reasons = conflict_of(*trial.build, trial.solver.problem(), *impossible, options).sentences;
  } else if (const auto* proven = std::get_if<budgets::Proven>(&trial.result)) {
    column.proof = Proof::proven;
    fill(column, trial, proven->plan, proven->plan.value);
  } else if (trial.plan() != nullptr) {
    fill(column, trial, *trial.plan(), std::get<budgets::Stopped>(trial.result).bound);
  }
  return column;
}

/// Jobs that are not in the same stage in all columns with a plan.
std::vector<int> moving(const std::vector<CompareColumn>& columns, std::size_t jobs) {
  std::vector<int> found;
  for (std::size_t j = 0; j < jobs; ++j) {
    const CompareColumn* first = nullptr;
    bool moves = false;
    for (const CompareColumn& column : columns) {
      if (!column.planned) continue;
      if (first == nullptr) first = &column;
      moves |= column.stage_of[j] != first->stage_of[j];
    }
    if (moves) found.push_back(static_cast<int>(j));
  }
  return found;
}

}  // namespace

Comparison compare(const build::Build& build, const std::vector<Changed>& changed,
                   const budgets::SolveOptions& options) {
  Trials trials;
  trials.push_back(std::make_unique<Trial>(build, to_staging(build)));
  for (const Changed& one : changed)
    trials.push_back(std::make_unique<Trial>(one.build, to_staging(one.build)));
  solve(trials, options);
  share(trials);
  Comparison comparison;
  comparison.build = &build;
  for (std::size_t i = 0; i < trials.size(); ++i) {
    comparison.columns.push_back(column_of(*trials[i], i == 0 ? "as it is" : changed[i - 1].title, options));
  }
  comparison.moving = moving(comparison.columns, build.jobs.size());
  comparison.notes.push_back("Want-months are counted with each column's own wants.");
  const auto unproven = [](const CompareColumn& one) { return one.planned && one.proof == Proof::stopped; };
  if (std::any_of(comparison.columns.begin(), comparison.columns.end(), unproven)) {
    comparison.notes.push_back(
        "Where a plan is not proven best, what differs may in part come from what was found; the upper limit "
        "holds. A plan found for one column was tried in all others, so a plan may be better here than "
        "'plan' "
        "prints it. --effort thorough narrows it.");
  }
  return comparison;
}

}  // namespace fettlefund::planning
