#pragma once
#include <cstdint>
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::testing {

/// A plan that may need more opening cash, and how much more it needs.
struct PricedPlan {
  budgets::Plan plan;      ///< its cash is with plenty more
  std::int64_t extra = 0;  ///< minor units, >= 0
};

/// For every schedule that breaks no rule but cash: what it comes to with just enough cash, and what with
/// more cash can be bought for less. By plain enumeration of stages and tools. For about 4 jobs x 3 stages.
std::vector<PricedPlan> all_plans(const budgets::Problem& problem);

}  // namespace fettlefund::testing
