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
  int place = -1;        ///< from 0 among the steps that the build file writes; -1: it writes none
  std::string said;      ///< the text as the build file writes it, which words are looked for in
  bool locking = false;  ///< secures what is tightened before it
  Id fits = {};
  std::string tightens = {};
  bool whole = false;   ///< a check that waits until everything is back on
  bool hidden = false;  ///< stands for a putting back that does not happen
};

/// The off steps, or the one step "Take off NAME".
std::vector<WrittenStep> off_steps(const build::Removal& removal);

/// The on steps, or the one step "Put NAME back on"; with what the removal spoils, the tightening, the
/// locking and the checks among them (see job_steps). What is spoilt is named with its amount at the step
/// that fits it, else at the last step that speaks of it, else, where it locks something, in a step of its
/// own after the tightening, else before all the steps.
std::vector<WrittenStep> on_steps(const build::Build& build, const build::Removal& removal);

/// The job's steps, or its name as the only one; with the articles that they fit, the tightening and the
/// checks among them, the checks of its kind of work last.
///
/// A torque belongs to the step that tightens it. Where none does, it becomes the last step that speaks of
/// its fastener if that begins with Tighten or Torque; it follows that step if that begins by putting
/// something on (Fit, Refit, Put, Screw, Run, Thread, Insert, Wind, Do up, Bolt) other than by hand; a step
/// that tightens something no torque speaks of takes the only torque that is left; and else the tightening
/// follows all the steps. It always comes before what locks (a split pin, lock wire, a tab bent over): before
/// the step that speaks of the fastener, else before the last that lock. A step that speaks of loosening
/// never draws it forward.
std::vector<WrittenStep> job_steps(const build::Build& build, const build::Job& job);

}  // namespace fettlefund::graph
