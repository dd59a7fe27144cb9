#pragma once
#include <vector>

#include "lib/progress/history.hpp"

/// What the build file as it is now had planned for what the log tells.
namespace fettlefund::planning {

/// The offer it was bought from, or the cheapest where that is not known; none: nobody offers it.
const build::Offer* offer_behind(const build::Build& build, const Bought& bought);

/// What was bought, at the likely price of that offer, or what the file charges for the delivery, hire or
/// fee. Nothing for what the file does not name.
Money planned_for(const build::Build& build, const Bought& bought);

/// The bench date of each stage (of sessions the last), those that are over too.
std::vector<Date> bench_dates_of(const build::Build& build);

/// The place of the first stage whose bench date is not over on that day, else of the last.
int stage_on(const std::vector<Date>& bench_dates, Date day);

/// Bench time of a job, with each of its removals once.
std::int64_t planned_minutes(const build::Build& build, const build::Job& job);

}  // namespace fettlefund::planning
