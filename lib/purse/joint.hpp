#pragma once
#include <vector>

#include "budgets/problem/plan.hpp"
#include "lib/outcome/plan.hpp"
#include "lib/purse/purse.hpp"

/// The builds of a purse as one staging problem, and the way back.
namespace fettlefund::purse {

/// Where the entries of one build begin in the joint problem.
struct Offsets {
  int jobs = 0, removals = 0, articles = 0, tools = 0;
  std::vector<int> suppliers;  ///< of each of the build's suppliers, its own in the joint problem
};

struct Joint {
  budgets::ProblemData problem;
  std::vector<planning::Staging> stagings;  ///< one a build
  std::vector<Offsets> offsets;
};

/// Jobs, removals, articles, tools and things on the machine are each build's own and stand one build behind
/// the other; suppliers with one id are one, so that what several builds order there on a payday is one
/// order.
Joint join(const Purse& purse);

/// What each build has of a joint plan: figures of its own, cash after each payday as the purse has it.
/// The delivery of an order is the first build's that orders in it; of the allowance, rounded up for the
/// purse, the first builds have theirs rounded up together. So the parts add up to the plan. `value` is the
/// worth of the build's own jobs less its own bother.
std::vector<budgets::Plan> parts_of(const Joint& joint, const budgets::Plan& plan);

}  // namespace fettlefund::purse
