#pragma once
#include <vector>

#include "budgets/problem/problem.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::planning {

/// The first and last stage (from 0) whose bench date keeps `not_before` and `by`.
struct Window {
  int earliest = 0, latest = 0;
  bool empty() const { return earliest > latest; }
};
Window window_of(const build::Job& job, const std::vector<budgets::Stage>& stages);

/// Jobs joined by `with`, directly or through others: groups of at least two, each ascending.
std::vector<std::vector<int>> together_of(const build::Build& build);

}  // namespace fettlefund::planning
