#pragma once
#include <vector>

#include "lib/graph/work_order.hpp"

/// The words of the steps: what the build file writes for a job or a removal, and what stands in where it
/// writes nothing.
namespace fettlefund::graph {

/// A step as shown, with the id and `after` of the build file's step that it comes from (empty for steps that
/// stand in, tightening and checks).
struct WrittenStep {
  WorkStep shown;
  Id id;
  std::vector<Id> after;
  int place = -1;  ///< from 0 among the steps that the build file writes; -1: it writes none
};

/// The off steps, or the one step "Take off NAME".
std::vector<WrittenStep> off_steps(const build::Removal& removal);

/// The on steps, or the one step "Put NAME back on"; with the tightening among them, and the checks last.
/// What the removal spoils is named with its amount at the last step that speaks of the article, else at the
/// first.
std::vector<WrittenStep> on_steps(const build::Build& build, const build::Removal& removal);

/// The job's steps, or its name as the only one; with the tightening among them, and the checks last.
///
/// A torque is tightened right after the last step that speaks of its fastener, where that step begins by
/// putting something on (Fit, Refit, Put, Screw, Run, Thread, Insert, Wind, Do up, Bolt), and becomes that
/// step where it begins with Tighten or Torque; otherwise after all the steps. A step that speaks of
/// loosening the fastener never draws the tightening forward.
std::vector<WrittenStep> job_steps(const build::Job& job);

}  // namespace fettlefund::graph
