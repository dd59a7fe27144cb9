#pragma once
#include <map>
#include <vector>

#include "lib/graph/digraph.hpp"
#include "lib/graph/index.hpp"
#include "lib/graph/step_text.hpp"

namespace fettlefund::graph {

/// A run of steps that belong together: indices [first, end).
struct Block {
  int first = 0;
  int end = 0;
};

/// Where a step comes from: a job's steps, or a removal's off or on steps, and its place among them.
enum class Part { off, work, on };
struct Origin {
  Part part = Part::work;
  int index = 0;  ///< into Build::jobs or Build::removals
  int place = 0;  ///< from 0 within its block
};

/// The steps of some jobs and removals, and which must come before which.
struct StepGraph {
  std::vector<WrittenStep> steps;
  std::vector<Origin> origins;         ///< of each step
  std::map<int, Block> off, work, on;  ///< by removal or job index

  /// Arrows from a step to those that must come later: steps of a block in their order, `after` of steps, off
  /// before on, removals in the order of their needs and back.
  Arrows arrows;

  /// The arrows among them that a step's `after` asks for.
  Arrows asked;
};

/// The graph for these jobs and removals (indices, each once), of which `needs` tells for every removal of
/// the build which must be off first. An `after` of a step means the steps of its own block with that id, or
/// else all steps here with that id; where there is none it asks for nothing. Arrows between removals that
/// lie on a cycle of needs are left out.
StepGraph step_graph(const build::Build& build, const std::vector<int>& jobs,
                     const std::vector<int>& removals, const Arrows& needs);

/// Adds that a job does not begin before the jobs it comes after: arrows from first step to first step. Those
/// between jobs that lie on a common cycle of `after` are left out.
void add_beginnings(StepGraph& graph, const Arrows& after);

/// Adds, where no arrow there is already speaks against it,
/// - that the work of a job is done while the removals it uses are off: from the last off step of each of
/// them
///   to each step of the job, and from there to the first on step;
/// - that a job begins when the jobs it comes after (`after`, by job index) are done: from each of their
/// steps
///   to its first.
/// In this order: a step that waits by its own `after` for something to be back on, or for another job, is
/// left for later while the rest stays in place. `removals_of` lists for each job of the graph all it uses.
void add_whole_jobs(StepGraph& graph, const std::map<int, std::vector<int>>& removals_of,
                    const Arrows& after);

}  // namespace fettlefund::graph
