#pragma once
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::graph {

using build::Id;

/// `lock` secures what was tightened (a split pin, lock wire).
enum class StepKind { off, work, on, tighten, lock, check };

/// The kind as people read it: "off", "work", "back on", "tighten", "lock", "check".
const char* kind_text(StepKind kind);

/// What a step is part of: taking its removal off, its job, or putting its removal back on.
enum class Act { off, work, on };

struct WorkStep {
  int number = 0;  ///< from 1 within the stage
  StepKind kind = StepKind::work;
  Id of;  ///< job or removal
  bool of_job = false;
  std::string of_name;
  std::string text;
  std::string torque;  ///< both units, "85 N m (62.7 lbf ft)"; empty if none
  std::string source;  ///< of the torque
  std::string limits;  ///< of a check
  bool helper = false;
  std::vector<std::string> cautions;  ///< short lines of what to mind from here on
  Act act = Act::work;
  std::int64_t minutes = 0;  ///< its share of the time of its act, whose steps share it evenly
};

/// The steps of one stage in a possible sequence, for jobs and removals given as indices into the build (in
/// any order; removals that the jobs need are added where they are missing).
/// - A removal comes off once, after the removals it needs and only when the next job uses it; jobs that
/// share
///   it stand together. It goes back on once the last job that uses it is done, in reverse order.
/// - Jobs follow `after`, steps their own `after`, ties go by file order. A step's `after` is stronger than
/// the
///   rest: a nut is loosened before the chain that its job takes off, where the step says so, and what waits
///   for something to be back on is done then, even where another job comes after this one.
/// - A job that uses no removal and is done `with` others at hand is done while what they use is off: what
/// all
///   of those that use any have in common, or else what the first of them uses.
/// - What a job takes off for good is taken off once for all jobs of the stage and not put back on.
/// - Within a job or a removal things are fitted, tightened, locked and checked in this order wherever its
///   steps leave it open (see job_steps); a check of the whole comes when all that was off for it is back on.
///   Torques are the build's own, told in both units.
/// - Of the jobs whose `by` lies within `days` (the days of the stage's sessions, ascending, each once) those
///   of an earlier session come first, with what they come after or are done `with`, where nothing else is
///   asked.
/// - A removal without steps gets "Take off NAME" and "Put NAME back on", a job without steps its name.
/// The build must have passed check_cycles; otherwise some order is given that does not keep all of this.
std::vector<WorkStep> work_order(const build::Build& build, const std::vector<int>& jobs,
                                 const std::vector<int>& removals, const std::vector<build::Date>& days = {});

/// Cycles among jobs (`after`), removals (`needs`) and steps (`after`), each told once as a readable path
/// "a needs b needs c needs a", placed at the first of its members in the file.
std::vector<build::Diagnostic> check_cycles(const build::Build& build);

/// Indices of `removals` and all they need, in an order in which they can come off.
std::vector<int> closed_over_needs(const build::Build& build, const std::vector<int>& removals);

}  // namespace fettlefund::graph
