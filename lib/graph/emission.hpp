#pragma once
#include <vector>

#include "lib/graph/bench_order.hpp"
#include "lib/graph/step_graph.hpp"

namespace fettlefund::graph {

/// All steps of the graph, once each, so that every arrow points forward, as near to the order of `events`
/// (of build indices) as the arrows allow: a step that must come earlier is drawn forward to just before it
/// is needed, and the rest of a block that must wait until something is back on follows as soon as it is.
std::vector<int> emission(const StepGraph& graph, const std::vector<Event>& events);

}  // namespace fettlefund::graph
