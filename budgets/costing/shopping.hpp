#pragma once
#include <cstdint>
#include <vector>

#include "budgets/costing/basket_ways.hpp"

namespace fettlefund::budgets {

/// All that a schedule pays for.
struct ShoppingList {
  std::vector<std::vector<Line>> lines;  ///< [stage]
  std::vector<std::int64_t> fees;  ///< [stage] paid on its payday whatever is bought, before the allowance
  std::vector<Style> styles = {};  ///< as those of a Schedule
};

/// The best way of buying it (see `cost`): one pick a line, stage after stage. Where none leaves the floor on
/// every payday: with `lacking` the one of which the greatest lack is least, else any. Comparisons of ways
/// are added to `work`.
std::vector<Pick> best_way(const Problem& problem, const Buyer& buyer, const ShoppingList& list, bool lacking,
                           std::int64_t& work);

}  // namespace fettlefund::budgets
