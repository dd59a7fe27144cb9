#include "lib/progress/elsewhere.hpp"

#include <algorithm>
#include <set>

#include "lib/staging/demands.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stock.hpp"

namespace fettlefund::planning {
namespace {

bool is_done(const History& history, const build::Id& job) {
  return std::any_of(history.done.begin(), history.done.end(),
                     [&](const Done& one) { return one.job == job; });
}

}  // namespace

std::int64_t minutes_gone(const build::Build& build, const History& history, Date since) {
  std::int64_t gone = 0;
  std::set<std::pair<Date, int>> opened;
  for (const Done& done : history.done) {
    const int j = find_id(build.jobs, done.job);
    if (done.date < since || (j < 0 && !done.minutes)) continue;
    if (done.minutes) {
      gone += *done.minutes;
      continue;
    }
    const build::Job& job = build.jobs[static_cast<std::size_t>(j)];
    gone += job.minutes;
    for (const int r : opened_by(build, job)) {
      const build::Removal& removal = build.removals[static_cast<std::size_t>(r)];
      if (opened.insert({done.date, r}).second) gone += removal.minutes_off + removal.minutes_on;
    }
  }
  for (const BegunWork& begun : history.begun) {
    if (begun.date >= since && !is_done(history, begun.job)) gone += begun.minutes;
  }
  return gone;
}

std::vector<build::Extra> rests_of(const History& history, Date day) {
  std::vector<build::Extra> rests;
  for (const Bought& bought : history.bought) {
    if (bought.rest == Money()) continue;
    rests.push_back({std::max(bought.rest_on, day + 1), Money() - bought.rest, "the rest of " + bought.key});
  }
  return rests;
}

}  // namespace fettlefund::planning
