#pragma once
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::testing {

/// The orders of a schedule worked out the plain way: real dates, one stage after another, every combination
/// of offers tried and compared by the order that `cost` states. The schedule must have the right shape; what
/// no offer can bring in time is left out. `ways` becomes the largest number of combinations of any stage.
std::vector<budgets::Order> plain_orders(const budgets::Problem& problem, const budgets::Schedule& schedule,
                                         long long& ways);

}  // namespace fettlefund::testing
