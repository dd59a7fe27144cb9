#include <algorithm>
#include <stdexcept>

#include "budgets/what_if/frontier.hpp"
#include "lib/questions/compare.hpp"
#include "lib/questions/why.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

Staging with_amount(build::Build build, Money amount) {
  build.money.amount = amount;
  return to_staging(build);
}

/// How often the amount comes in for each stage. Throws where anything else hangs on it.
std::vector<std::int64_t> times_of(const build::Build& build, const Staging& staging, Money amount) {
  const Staging other = with_amount(build, amount);
  const std::int64_t more = amount.minor() - build.money.amount.minor();
  std::vector<std::int64_t> times;
  for (std::size_t t = 0; t < staging.problem.stages.size(); ++t) {
    const budgets::Stage &now = staging.problem.stages[t], &then = other.problem.stages[t];
    if (now.floor != then.floor) {
      throw std::invalid_argument(
          "the cash of this build is below its keep-back, which therefore follows the amount");
    }
    times.push_back((then.cash_in - now.cash_in).minor() / more);
  }
  return times;
}

class FrontierTeller {
 public:
  FrontierTeller(const build::Build& build, const Staging& staging) : build_(build), staging_(staging) {}

  FrontierRow row(std::int64_t amount, const std::optional<budgets::Plan>& plan, std::int64_t bound,
                  bool proven) const {
    FrontierRow row;
    row.amount = Money::of_minor(amount);
    row.impossible = !plan && proven;
    if (!plan) return row;
    row.planned = true;
    row.proven = plan->value >= bound;
    row.value_want_days = plan->value / worth_per_want_day;
    row.bound_want_days = row.proven ? row.value_want_days : want_days_at_most(bound);
    row.spent = plan->spent;
    row.left = plan->stages.back().cash_after;
    for (const int stage : plan->schedule.stage_of) {
      if (stage < 0) continue;
      ++row.jobs_done;
      const Date bench = staging_.problem.stages[static_cast<std::size_t>(stage)].bench;
      row.finish = std::max(row.finish.value_or(bench), bench);
    }
    return row;
  }

  std::vector<std::string> moves(const budgets::Plan& before, const budgets::Plan& after) const {
    std::vector<std::string> moves;
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      const int from = before.schedule.stage_of[j], to = after.schedule.stage_of[j];
      if (from != to) moves.push_back(build_.jobs[j].name + ": " + place(from) + " to " + place(to));
    }
    return moves;
  }

 private:
  std::string place(int stage) const {
    return stage < 0 ? "left out" : "stage " + std::to_string(build_.money.stages_over + stage + 1);
  }

  const build::Build& build_;
  const Staging& staging_;
};

/// Steps of each further search where the build's own amount could not be proven: they would not prove more.
constexpr std::int64_t steps_without_proof = 70'000'000;

/// Begins with the plan of the build's own amount, as good as `plan` finds it.
void begin_with_now(budgets::Solver& solver, budgets::SolveOptions options,
                    budgets::FrontierQuestion& question) {
  options.explain = false;
  const budgets::Result result = solver.solve(options);
  const auto* stopped = std::get_if<budgets::Stopped>(&result);
  if (stopped == nullptr) return;
  if (stopped->plan) question.known = {stopped->plan->schedule};
  if (options.effort != budgets::Effort::thorough) question.steps_each = steps_without_proof;
}

std::vector<std::string> notes_of(const FrontierReport& report) {
  std::vector<std::string> notes;
  const bool all = std::all_of(report.rows.begin(), report.rows.end(),
                               [](const FrontierRow& row) { return row.proven || row.impossible; });
  if (!all) {
    notes.push_back(
        "Where a plan is not proven best, no plan is worth more than the limit beside it. A plan found for a "
        "smaller amount counts for every larger one, so worth never falls; finish dates of plans found may.");
  }
  notes.push_back("The last job is the last that the plan does; with more money later jobs may join it.");
  return notes;
}

}  // namespace

FrontierReport frontier(const build::Build& build, const std::vector<Money>& amounts,
                        const budgets::SolveOptions& options) {
  const Staging staging = to_staging(build);
  budgets::FrontierQuestion question;
  for (const Money amount : amounts) question.amounts.push_back(amount.minor());
  question.now = build.money.amount.minor();
  const Money other = Money::of_minor(question.now + 1);
  question.times = times_of(build, staging, other);
  for (const Money amount : {amounts.front(), amounts.back()}) {
    if (amount != build.money.amount) times_of(build, staging, amount);
  }
  question.effort = effort_below(options.effort);
  question.stop = options.stop;
  budgets::Solver solver{budgets::Problem(staging.problem)};
  if (amounts.front() <= build.money.amount && build.money.amount <= amounts.back()) {
    begin_with_now(solver, options, question);
  }
  const budgets::Frontier found = budgets::frontier(solver, question);
  const FrontierTeller teller(build, staging);
  FrontierReport report;
  report.build = &build;
  for (const auto& point : found.points) {
    report.rows.push_back(teller.row(point.amount, point.plan, point.bound, point.proven));
  }
  const bool complete = found.complete_from == question.amounts.front();
  const budgets::Plan* before = complete && found.points.front().plan ? &*found.points.front().plan : nullptr;
  for (const auto& step : found.steps) {
    FrontierChange change{teller.row(step.amount, step.plan, step.plan.value, true), {}, true};
    if (before != nullptr) {
      change.moves = teller.moves(*before, step.plan);
    } else if (complete) {
      change.moves = {"with any less there is no plan"};
    }
    change.known = before != nullptr || complete;
    report.changes.push_back(std::move(change));
    before = &step.plan;
  }
  if (found.complete_from) report.complete_from = Money::of_minor(*found.complete_from);
  report.notes = notes_of(report);
  return report;
}

}  // namespace fettlefund::planning
