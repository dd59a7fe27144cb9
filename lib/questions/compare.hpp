#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "lib/progress/replan.hpp"

/// The same build under changes, side by side.
namespace fettlefund::planning {

/// Changes one figure of a build. The change is one of (amounts in the build's currency, ids of the build):
///   amount=300  opening=50  keep-back=100    money; what comes in on each payday, and is there at the start
///   allowance=5                              percent, at most two decimals
///   hours=10                                 of each stage, those apart for which the file says otherwise
///   extra:2027-03-01=200                     comes in besides on that day; negative: goes out
///   want:JOB=9  drop:JOB  must:JOB  by:JOB=2027-05-01
///   price:ARTICLE=99.00  price:ARTICLE=+10.00  price:ARTICLE=-5.00    of every offer, outright or by so much
/// Returns what is wrong with it, empty: nothing. The build is then changed, else left as it was.
std::string change(build::Build& build, const std::string& text);

/// One column: what became of the build as it was changed.
struct CompareColumn {
  std::string title;                 ///< "as it is", or its changes
  bool planned = false;              ///< there is a plan
  bool impossible = false;           ///< proven: there is none
  std::vector<std::string> reasons;  ///< if impossible, what conflicts
  Proof proof = Proof::stopped;
  std::int64_t value_want_days = 0, bound_want_days = 0;  ///< as in Outcome
  int jobs_done = 0;
  std::optional<Date> finish;  ///< the bench date of the last stage with a job
  Money spent, left;
  std::int64_t minutes = 0;
  std::vector<int> stage_of;  ///< one entry a job of the build: its stage as people count; 0: left out
};

struct Comparison {
  const build::Build* build = nullptr;  ///< as it is; not owned; outlives the comparison
  std::vector<CompareColumn> columns;   ///< the first is the build as it is
  std::vector<int> moving;  ///< jobs (indices of the build) that are not in the same stage everywhere
  std::vector<std::string> notes;
};

/// A build changed, with its title. Each must be `build` under changes, and pass `check`.
struct Changed {
  std::string title;
  build::Build build;
};

/// Plans the build and each changed one. Plans found for one are tried on the others, so no column is worse
/// than another's plan would be under its figures.
Comparison compare(const build::Build& build, const std::vector<Changed>& changed,
                   const budgets::SolveOptions& options = {});

/// One amount of money a payday.
struct FrontierRow {
  Money amount;
  bool planned = false, impossible = false;
  bool proven = false;  ///< no plan is worth more
  std::int64_t value_want_days = 0, bound_want_days = 0;
  int jobs_done = 0;
  std::optional<Date> finish;
  Money spent, left;
};

/// From this amount on, up to the next change, the best plan is another than at one minor unit less.
struct FrontierChange {
  FrontierRow at;
  std::vector<std::string> moves;  ///< in words, the plan against that before: "tent: stage 4 to stage 3";
                                   ///< none: the same stages for less money or time
  bool known = true;               ///< false: nothing is known of the plan before
};

struct FrontierReport {
  const build::Build* build = nullptr;  ///< not owned; outlives the report
  std::vector<FrontierRow> rows;        ///< by amount, ascending
  std::vector<FrontierChange> changes;  ///< exact amounts within the range, ascending
  std::optional<Money> complete_from;   ///< from here up no change is missing; nothing: changes are not known
  std::vector<std::string> notes;
};

/// Plans what is left of a build for each of the amounts (>= 0, ascending) instead of its own, with the
/// effort below that of `options`. std::invalid_argument where a build under way cannot keep its keep-back,
/// which then follows the amount.
FrontierReport frontier(const build::Build& build, const std::vector<Money>& amounts,
                        const budgets::SolveOptions& options = {});

}  // namespace fettlefund::planning
