#pragma once
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::graph {

using build::Id;

enum class StepKind { off, work, on, tighten, check };

struct WorkStep {
  int number = 0;  ///< from 1 within the stage
  StepKind kind = StepKind::work;
  Id of;  ///< job or removal
  std::string of_name;
  std::string text;
  std::string torque;  ///< both units, "85 N m (62.7 lbf ft)"; empty if none
  std::string source;  ///< of the torque
  std::string limits;  ///< of a check
  bool helper = false;
};

/// The steps of one stage in a possible sequence, for jobs and removals given as indices into the build: each
/// removal comes off once, after the removals it needs and only when a job needs it soon (so that its open
/// time stays together), jobs follow `after`, steps follow their own `after`, what came off goes back on in
/// reverse order, and tightening and checks come last for each removal or job. `removals` must hold the
/// closure of what the jobs need.
std::vector<WorkStep> work_order(const build::Build& build, const std::vector<int>& jobs,
                                 const std::vector<int>& removals);

/// Cycles among jobs (`after`), removals (`needs`) and steps (`after`), each told once as a readable path
/// "a needs b needs c needs a", placed at the first of its members in the file.
std::vector<build::Diagnostic> check_cycles(const build::Build& build);

/// Indices of `removals` and all they need, in an order in which they can come off.
std::vector<int> closed_over_needs(const build::Build& build, const std::vector<int>& removals);

}  // namespace fettlefund::graph
