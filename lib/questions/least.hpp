#pragma once
#include <cstdint>
#include <vector>

#include "budgets/problem/problem.hpp"

/// What some jobs take at the least, whatever the rest of a plan is: for reasons given to people.
namespace fettlefund::planning {

/// No plan that does these jobs spends less: their fees; what they and the removals they open use up, less
/// all stock, in whole packs at the lowest price; for each tool that is never free the cheaper of hiring once
/// and buying; and the allowance on that. Delivery is not counted.
budgets::Money least_cost(const budgets::Problem& problem, const std::vector<int>& jobs);

/// What cannot be ordered after the payday of a stage, where lead times or limited offers ask for it early.
struct Hurried {
  std::vector<int> articles;  ///< of the problem, ascending
  budgets::Money least;       ///< what they cost at the least, as `least_cost` counts
};

/// Of the articles that these jobs and the removals they open need, those that no offer brings in time when
/// ordered after the payday of `stage`. A job is done by its own last stage, and by `last`.
Hurried hurried(const budgets::Problem& problem, const std::vector<int>& jobs, int last, int stage);

/// The jobs and all that must come before them or be done with them, ascending.
std::vector<int> with_what_they_ask(const budgets::ProblemData& data, std::vector<int> jobs);

/// The most that can have been spent when the payday of `stage` is over: opening and income up to then, less
/// what that payday and every later one has to leave. May be negative.
budgets::Money most_to_spend(const budgets::ProblemData& data, int stage);

/// Minutes of the jobs and of everything they open, each removal once.
std::int64_t least_minutes(const budgets::Problem& problem, const std::vector<int>& jobs);

}  // namespace fettlefund::planning
