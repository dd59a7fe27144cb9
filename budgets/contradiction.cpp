#include "budgets/contradiction.hpp"

#include "budgets/search/conflict.hpp"

namespace fettlefund::budgets {

std::vector<int> contradicting_musts(const Problem& problem) {
  search::Meter meter(4 * search::little_steps, nullptr);
  return search::contradicting_musts(problem, search::little, search::little_steps, meter);
}

}  // namespace fettlefund::budgets
