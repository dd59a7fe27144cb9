#pragma once
#include <cstdint>
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::testing {

/// The best way of buying what a schedule needs, found by trying them all.
struct PlainShopping {
  static constexpr long long most_ways = 300'000;
  bool possible = true;  ///< everything arrives in time and the floor is kept on every payday
  bool all = true;       ///< false: there were more ways than that, and the rest was not looked at
  long long ways = 0;
  std::int64_t spent = 0;  ///< minor units
  std::vector<budgets::Order> orders;
};

/// Shares nothing with `cost`. The schedule must keep all rules but those of goods, tools and cash, and use
/// every tool that it buys.
PlainShopping shop_plainly(const budgets::Problem& problem, const budgets::Schedule& schedule);

}  // namespace fettlefund::testing
