#pragma once
#include <vector>

#include "budgets/problem/problem.hpp"

namespace fettlefund::budgets {

/// Musts that cannot all be done whatever money and bench time there are: their order, windows, groups or
/// what they bring contradict each other. As few as can be told, ascending; empty: they can all be done, or a
/// little search (well under a second) does not tell.
std::vector<int> contradicting_musts(const Problem& problem);

}  // namespace fettlefund::budgets
