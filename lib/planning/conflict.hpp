#pragma once
#include "budgets/solve.hpp"
#include "lib/planning/plan.hpp"

namespace fettlefund::planning {

/// Tells demands that cannot be met: which, by when, what they take at the least, how much is short, and what
/// would release them. Later dates are tried with the solver at its quick effort.
Conflict conflict_of(const build::Build& build, const budgets::Problem& problem,
                     const budgets::Impossible& impossible, const budgets::SolveOptions& options);

}  // namespace fettlefund::planning
