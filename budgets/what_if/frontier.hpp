#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/solve.hpp"

/// What becomes of the best plan as the amount that comes in on paydays grows.
namespace fettlefund::budgets {

/// The answer for one amount.
struct FrontierPoint {
  std::int64_t amount = 0;   ///< minor units
  std::optional<Plan> plan;  ///< the best found; verified
  std::int64_t bound = 0;    ///< no plan has more value
  bool proven = false;       ///< there is no plan, or none is better by value, money and time
};

/// From `amount` on, up to the next step, best plans have the value, money and time of `plan`, and `plan` is
/// one.
struct FrontierStep {
  std::int64_t amount = 0;
  Plan plan;
};

struct Frontier {
  std::vector<FrontierPoint> points;  ///< as asked for
  /// Every amount above the lowest asked for, up to the highest, at which best plans become better (by value,
  /// money, time) than at one minor unit less, ascending; exact. Complete from `complete_from` up.
  std::vector<FrontierStep> steps;
  std::optional<std::int64_t> complete_from;  ///< the lowest amount asked for: complete; nothing: no amount
                                              ///< at all is certain
  std::int64_t work = 0;                      ///< steps of the searches
};

struct FrontierQuestion {
  std::vector<std::int64_t> amounts;  ///< minor units, strictly ascending, at least one
  std::int64_t now = 0;               ///< the amount in the solver's problem
  std::vector<std::int64_t> times;    ///< one entry a stage: how often the amount comes in for it; >= 0
  std::vector<Schedule> known;        ///< tried first
  Effort effort = Effort::quick;
  std::optional<std::int64_t> steps_each;  ///< of one search, fewer than the effort has
  const std::atomic<bool>* stop = nullptr;
  std::int64_t steps =
      20'000'000'000;  ///< of searches for steps: where they are used up, the lower amounts stay open
};

/// More money never makes best plans worse, so plans of lower amounts and bounds of higher ones count too.
Frontier frontier(Solver& solver, const FrontierQuestion& question);

/// The least amount with which the schedule keeps all rules of `problem`, if it keeps all but cash and there
/// is one.
std::optional<std::int64_t> least_amount(const Problem& problem, const FrontierQuestion& question,
                                         const Schedule& schedule);

}  // namespace fettlefund::budgets
