#include "lib/outcome/plan.hpp"

#include "lib/outcome/fewer_openings.hpp"
#include "lib/outcome/view.hpp"
#include "lib/questions/conflict.hpp"

namespace fettlefund::planning {
namespace {

Outcome told(const View& view, bool proven, std::int64_t bound, const budgets::Work& work) {
  Outcome outcome = outcome_of(view, proven, bound, work);
  for (std::string& hint : fewer_openings(view)) outcome.warnings.push_back(std::move(hint));
  return outcome;
}

}  // namespace

Planning plan(const build::Build& build, const budgets::SolveOptions& options) {
  const Staging staging = to_staging(build);
  const budgets::Problem problem(staging.problem);
  const budgets::Result result = budgets::solve(problem, options);
  if (const auto* impossible = std::get_if<budgets::Impossible>(&result)) {
    return conflict_of(build, problem, *impossible, options);
  }
  if (const auto* proven = std::get_if<budgets::Proven>(&result)) {
    Outcome outcome = told({build, staging, problem, proven->plan}, true, proven->plan.value, proven->work);
    outcome.ties_proven = proven->ties_proven;
    return outcome;
  }
  const auto& stopped = std::get<budgets::Stopped>(result);
  if (!stopped.plan) return NoPlan{stopped.work};
  return told({build, staging, problem, *stopped.plan}, false, stopped.bound, stopped.work);
}

}  // namespace fettlefund::planning
