#pragma once
#include <vector>

#include "lib/build/model.hpp"
#include "lib/graph/digraph.hpp"

namespace fettlefund::graph {

/// Whether one of the jobs (indices into the build) says that it is done `with` the other.
bool together(const build::Build& build, int a, int b);

/// For each of `jobs` how many of the days (of a stage's sessions, ascending) there are up to its `by`, or up
/// to that of one of them that comes after it (`after`, by job index) or is done with it, whichever are
/// fewest. All of them where there is none.
std::vector<int> due_sessions(const build::Build& build, const std::vector<int>& jobs, const Arrows& after,
                              const std::vector<build::Date>& days);

}  // namespace fettlefund::graph
