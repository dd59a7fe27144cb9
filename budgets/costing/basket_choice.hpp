#pragma once
#include <cstdint>
#include <vector>

#include "budgets/costing/basket.hpp"

namespace fettlefund::budgets {

/// The cheapest choice of ways, exact: for each wanted thing the index of its way. Least money for goods and
/// delivery given `placed`; among equals less money on the earliest payday that differs; then the lowest
/// offers, the first wanted thing foremost.
std::vector<int> choose_ways(const ProblemData& data, const std::vector<OpenOrder>& placed,
                             const std::vector<Wanted>& wanted);

}  // namespace fettlefund::budgets
