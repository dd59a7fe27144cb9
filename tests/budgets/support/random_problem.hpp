#pragma once
#include <cstdint>

#include "budgets/problem/problem.hpp"

namespace fettlefund::testing {

/// A small random problem over all rules: packs, lots and keeping times, several offers with windows and lead
/// times that reach back, delivery with and without a free-from amount, tools (free, to buy, to hire), nested
/// removals with one-use articles, carriers and clashes, groups, windows, musts, `after`, income that may be
/// negative, floors that vary, allowance and bother. Each feature is on in some problems only. 1 to
/// `most_jobs` jobs, 1 to `most_stages` stages. Always valid; not always possible. The same seed gives the
/// same problem on every platform.
budgets::ProblemData random_problem(std::uint64_t seed, int most_jobs, int most_stages);

/// The same problem where some stages have bench time on several days and some jobs a day within it.
budgets::ProblemData with_days(std::uint64_t seed, budgets::ProblemData data);

/// A random schedule of such a problem, mostly within windows; it may break rules.
struct ScheduleDraw {
  std::vector<int> stage_of;
  std::vector<int> tool_bought;
};
ScheduleDraw random_schedule(std::uint64_t seed, const budgets::ProblemData& data);

/// The number of random cases for a test: `usual`, or FETTLEFUND_CASES from the environment if that is set.
int random_cases(int usual);
/// Where a test that can be split begins: 0, or FETTLEFUND_FIRST_CASE from the environment.
int first_random_case();

}  // namespace fettlefund::testing
