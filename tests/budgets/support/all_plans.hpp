#pragma once
#include <cstdint>
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::testing {

/// A schedule that breaks no rule but cash, and how much more opening cash it takes to keep that one too.
struct PricedPlan {
  budgets::Plan plan;      ///< costed with plenty of cash
  std::int64_t extra = 0;  ///< minor units, >= 0
};

/// All of them, by plain enumeration of stages and purchases. For about 4 jobs x 3 stages.
std::vector<PricedPlan> all_plans(const budgets::Problem& problem);

}  // namespace fettlefund::testing
