#pragma once
#include "budgets/what_if/what_if.hpp"
#include "lib/outcome/plan.hpp"

namespace fettlefund::planning {

/// Tells demands that cannot be met: which, by when, what they take at the least, how much is short, and what
/// would release them. Later dates are tried with the solver at its quick effort.
Conflict conflict_of(const build::Build& build, const budgets::Problem& problem,
                     const budgets::Impossible& impossible, const budgets::SolveOptions& options);

/// The least minutes more in every stage with which the musts of the conflict can be met, where bench time
/// can do that at all. Exact unless the solver's quick effort leaves a question open; then enough, as far as
/// known.
budgets::Least releasing_minutes(const budgets::Problem& problem, const budgets::Impossible& impossible,
                                 const std::atomic<bool>* stop = nullptr);

}  // namespace fettlefund::planning
