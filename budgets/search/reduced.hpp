#pragma once
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::budgets::search {

/// A problem with only those jobs that can matter to whether some musts can be met.
struct Reduced {
  ProblemData data;
  std::vector<int> jobs;  ///< index of the reduced problem -> of the whole one; ascending
};

/// Keeps the musts, what they require, and what parts or adapts things that may then be on the machine and do
/// not fit together. With money without end the musts can be met in the whole problem exactly if they can in
/// this one: the jobs left out only take time, goods and places, and change nothing that stands in the way.
/// Where money is short they could help: more goods may bring an order to its free-from amount.
Reduced reduce(const ProblemData& data, const std::vector<int>& musts);

/// A schedule of the reduced problem as one of the whole: what it does not know is left out.
Schedule widen(const Reduced& reduced, const ProblemData& whole, const Schedule& schedule);

}  // namespace fettlefund::budgets::search
