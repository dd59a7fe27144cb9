#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "budgets/what_if/what_if.hpp"
#include "lib/progress/replan.hpp"

/// Why a job is where the plan has it, in the builder's words.
namespace fettlefund::planning {

/// Another job that the best plan with the job asked about in a given stage has elsewhere.
struct WhyShift {
  Id job;
  std::string name;
  int from = -1, to = -1;  ///< stages as people count them; 0: left out
};

/// The job in one stage before its own; stages as people count them.
struct WhyStage {
  int number = 0;
  Date payday, bench;
  budgets::Possible possible = budgets::Possible::unknown;
  std::vector<std::string> stopped_by;  ///< if not possible, words of rules: "money", "bench hours"; all of
                                        ///< them have to give way
  std::vector<std::string> or_by;       ///< further rules, any one of which would make it possible by itself
  bool stopped_by_proven = true;        ///< false: the search left open whether an earlier rule alone does it
  std::int64_t loss = 0;  ///< if possible: want-days that the best plan found with it there is worth less
                          ///< than the plan; negative where it is worth more
  std::int64_t least_loss = 0;  ///< want-days; no plan with it there loses less; at most `loss`
  Money dearer;                 ///< what that plan spends more
  std::vector<WhyShift> shifts;
  budgets::LeastExtra cash, minutes;  ///< in minor units; minutes in this stage
  std::vector<std::string> sentences;
};

struct WhyReport {
  const build::Build* build = nullptr;  ///< not owned; outlives the report
  Proof proof = Proof::proven;          ///< of the plan asked about
  Id job;
  std::string name;
  int stage = 0;                 ///< as people count; 0: left out
  Date bench;                    ///< of that stage
  std::string left_out;          ///< the reason, if it is
  std::vector<WhyStage> stages;  ///< those asked about, ascending
  std::vector<std::string> notes;
};

using WhyAnswer = std::variant<WhyReport, Conflict, NoPlan>;

/// Plans what is left of the build and asks about one of its jobs, in `stage` (as people count them) or,
/// where that is 0, in every stage before its own. The follow-up solves have the effort below that of
/// `options`. The report points to `standing.build`. Throws std::invalid_argument for a job that it does not
/// have; a stage that is not before the job's own is not asked about.
WhyAnswer why(const Standing& standing, const Id& job, int stage, const budgets::SolveOptions& options = {});

/// The effort of follow-up solves.
budgets::Effort effort_below(budgets::Effort effort);

/// The word for a rule that can hold a job back: "money".
std::string hold_text(budgets::Hold hold);

}  // namespace fettlefund::planning
