#pragma once
#include <cstddef>
#include <cstdint>

namespace fettlefund::budgets::search {

/// The figures that rank plans.
struct Rank {
  std::int64_t value = 0;
  std::int64_t spent = 0;
  std::int64_t minutes = 0;
};
bool better(const Rank& a, const Rank& b);  ///< more value, then less money, then less time

/// What a child must come up to.
struct Goal {
  std::int64_t least = 0;       ///< grid bound that a child needs to be better than the best plan
  std::int64_t floor = 0;       ///< the same or higher: what it needs to be kept in a crowded layer
  std::size_t room = 0;         ///< rows that the next layer may grow to before it is cut
  std::int64_t most_money = 0;  ///< of a whole plan, minor units
  std::size_t ways = 1;         ///< of buying one stage's goods, that become children; the rest becomes one
};

}  // namespace fettlefund::budgets::search
