#pragma once
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/outcome/plan.hpp"

namespace fettlefund::report {

struct TextOptions {
  bool colour = false;     ///< with terminal colours; otherwise plain text
  bool steps = false;      ///< with the work order of each stage, step by step
  bool brief = false;      ///< only what to do next, the overview table and the proof
  int stage = 0;           ///< only this stage, by its number; 0: all
  bool thorough = false;   ///< the plan was looked for with the greatest effort there is
  bool proof = true;       ///< closed by the proof; false: it stands elsewhere, as for a build of a purse
  std::string as_of = {};  ///< the first line of every report; empty: none
  int width = 80;          ///< columns, >= 80; only amounts of a million and more make the overview wider
};

/// A plan for reading: the overview table, each stage with what to buy, to remember and to do, what is left
/// out, tools, warnings, care to take, what is taken for granted, and the proof. Ends with a line break.
std::string text(const planning::Outcome& outcome, const TextOptions& options = {});

/// Demands that cannot be met.
std::string text(const planning::Conflict& conflict, const TextOptions& options = {});

/// The line that says how good the plan is known to be, without a line break.
std::string proof_line(const planning::Outcome& outcome);

/// What the gap of a plan that is not proven best means for the builder, and whether more effort may pay, in
/// one sentence; "" where it is proven.
std::string gap_sentence(const planning::Outcome& outcome, bool thorough);

}  // namespace fettlefund::report
