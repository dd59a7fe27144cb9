#pragma once
#include <vector>

#include "lib/graph/step_graph.hpp"
#include "lib/graph/work_order.hpp"

namespace fettlefund::graph {

/// Gives every step its act and an even share of the act's minutes: of its job, or of taking its removal off
/// or putting it back on. `origins` are those of the steps, one each.
void share_time(const build::Build& build, const std::vector<Origin>& origins, std::vector<WorkStep>& steps);

}  // namespace fettlefund::graph
