#include <algorithm>

#include "budgets/search/bound/linear_dual.hpp"

namespace fettlefund::budgets::search {

std::vector<double> LinearDual::rates() {
  price(best_);
  std::vector<double> result(relaxed_.units, 0);
  for (int u = 0; u < relaxed_.units; ++u) {
    int t = 0;
    while (t < relaxed_.stages && !relaxed_.model->allowed(u, t)) ++t;
    const double worth = t < relaxed_.stages ? static_cast<double>(relaxed_.worth_at(u, t)) : 0;
    if (worth <= 0) continue;
    // Some are paid more by units that need them than they cost.
    const double taken = worth - profit_[u * relaxed_.stages + t];
    result[u] = worth / std::max(taken, worth / 1e6);
  }
  return result;
}

}  // namespace fettlefund::budgets::search
