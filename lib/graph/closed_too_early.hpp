#pragma once
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/graph/index.hpp"

namespace fettlefund::graph {

/// Jobs that can never have all off that they need, because a step by which a removal comes off waits (by
/// `after`, over as many steps as there are) for one by which another of the job's removals goes back on: an
/// error for each such step, with the path, placed at the removal that comes off. The build must have no
/// other cycles.
std::vector<build::Diagnostic> closed_too_early(const build::Build& build, const Index& index);

}  // namespace fettlefund::graph
