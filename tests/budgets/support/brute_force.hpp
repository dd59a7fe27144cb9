#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::testing {

/// What enumeration found.
struct BruteForce {
  std::optional<budgets::Plan> best;  ///< nothing: no schedule keeps all rules
  std::int64_t judged = 0;            ///< complete schedules handed to `cost`
};

/// The best plan by enumerating every stage (or none) for every job and every stage that uses it (or none)
/// for every tool that can be bought, each complete schedule judged by `cost`. Left out before that are only
/// schedules that break windows, musts, `after`, one-of, together or hours, and schedules of less value than
/// one already found to be possible (the value follows from the jobs' stages alone). For about 10 jobs x 5
/// stages.
BruteForce brute_force(const budgets::Problem& problem);

/// The same without leaving anything out. For about 5 jobs x 3 stages.
BruteForce enumerate_all(const budgets::Problem& problem);

/// Whether some plan keeps all rules where just `musts` are musts and `extra` minor units more are there at
/// the start.
bool can_meet(budgets::ProblemData data, const std::vector<int>& musts, std::int64_t extra = 0);

}  // namespace fettlefund::testing
