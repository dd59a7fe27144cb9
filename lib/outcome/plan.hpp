#pragma once
#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "budgets/solve.hpp"
#include "lib/build/diagnostic.hpp"
#include "lib/build/model.hpp"
#include "lib/outcome/outcome.hpp"
#include "lib/staging/demands.hpp"
#include "lib/staging/machine.hpp"
#include "lib/staging/stages.hpp"

namespace fettlefund::planning {

/// A build as a staging problem, and the way back. The one place where ids meet indices.
/// Indices of jobs, removals and suppliers are those of the Build; other tables say what they come from.
/// Ids decide between what is otherwise equal: articles and tools stand by id, their offers by supplier and
/// what they are, jobs, removals and suppliers have the rank of their ids. So the order of the file's lists
/// does not change the plan.
struct Staging {
  budgets::ProblemData problem;
  std::vector<int> article_of;  ///< problem article -> Build::articles, by id: those that are needed
  std::vector<int> tool_of;     ///< problem tool -> Build::articles, by id: those that are used
  std::vector<std::vector<int>> article_offers;  ///< [problem article][its offer] -> offer in the Build
  std::vector<std::vector<int>> tool_offers;     ///< [problem tool][its offer] -> offer in the Build
  Calendar calendar;                             ///< with the end: want counts up to (not including) that day
  Demands demands;                 ///< what each job and removal needs, as indices into the Build
  Machine machine;                 ///< mate keys and values in words
  std::vector<std::string> notes;  ///< assumptions made on the way, for people
  bool has_sessions = false;       ///< the build gives bench time as sessions
};

/// Everything wrong with a build that reading alone cannot see: cycles, articles without an offer or stock,
/// payday rules with too few days, bench dates past the next payday, jobs that can never fit the bench hours,
/// by-dates before the first bench date, silenced rules that do not exist. Errors first, each pointing at its
/// place.
std::vector<build::Diagnostic> check(const build::Build& build);

/// The stage whose bench date this is (of a build with sessions: to whose bench time the day belongs), or -1.
int stage_on(const Staging& staging, Date bench);

/// The places of such a table in file order: of problem articles or tools.
std::vector<int> in_file_order(const std::vector<int>& table);

/// The build must have passed `check` without errors, before what its log says was taken into account.
Staging to_staging(const build::Build& build);

/// Musts that cannot be met together, in words with dates and amounts.
struct Conflict {
  std::vector<Id> jobs;
  std::vector<std::string> sentences;  ///< what clashes, and what would release it
  std::optional<Date> from = {};       ///< as in the build's money
};

/// The effort ran out before any plan was found.
struct NoPlan {
  budgets::Work work;
};

using Planning = std::variant<Outcome, Conflict, NoPlan>;

/// Solves and tells the result in the builder's words.
Planning plan(const build::Build& build, const budgets::SolveOptions& options = {});

}  // namespace fettlefund::planning
