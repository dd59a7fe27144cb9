#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "lib/build/model.hpp"
#include "lib/staging/stages.hpp"

/// How much a job is wanted on a day, and what doing it in a stage is worth.
namespace fettlefund::planning {

/// Worth is counted in sixtieths of a want-day, so that bother in want-days per hour is whole per minute.
inline constexpr std::int64_t worth_per_want_day = 60;

/// The least whole number of want-days that is not below `worth` (>= 0).
constexpr std::int64_t want_days_at_most(std::int64_t worth) {
  const std::int64_t days = worth / worth_per_want_day;
  return days + (worth > days * worth_per_want_day ? 1 : 0);
}

/// What leaving an agreed job in its stage counts, as worth: a little more than the want-days, so that a move
/// that gains just these does not pay.
constexpr std::int64_t keep_worth(const build::Agreement& agreement) {
  return agreement.keep_days * worth_per_want_day + 1;
}

inline constexpr int due_want_at_first = 3;
inline constexpr int due_want_at_most = 10;

/// The day a fitted thing's service life ends: `since` plus the months, clipped to the month's length.
/// Nothing where the build gives no date or no life.
std::optional<budgets::Date> due_date(const build::Fitted& fitted);

/// Whole months from `from` to `to`, rounded down (so negative where `to` is earlier).
int months_between(budgets::Date from, budgets::Date to);

/// The want of renewing a fitted thing on a day: 0 before it is due; then 3, and 1 more for each tenth of its
/// service life begun since, at most 10.
int due_want(const build::Fitted& fitted, budgets::Date day);

/// One entry a stage: the larger of the job's want and the due wants of what it alone renews, summed over the
/// days from the stage's bench date (the last of its sessions) to the day before the end, times
/// worth_per_want_day. Alone: no other job that renews it can be done as well.
std::vector<std::int64_t> worth_of(const build::Build& build, int job,
                                   const std::vector<budgets::Stage>& stages, budgets::Date end);

/// What parts that several jobs renew add to that, for the first of them that is done: by so much as their
/// due wants are larger, day by day. Parts that the same jobs renew are one, wanted as the one that is wanted
/// most; of parts that different jobs renew each adds to those before it, by the lowest id of each.
std::vector<budgets::Renewal> renewals_of(const build::Build& build,
                                          const std::vector<budgets::Stage>& stages, budgets::Date end);

}  // namespace fettlefund::planning
