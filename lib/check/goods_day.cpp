#include "lib/check/goods_day.hpp"

#include <algorithm>

#include "lib/staging/stages.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

/// Days from a stage's payday to its first session, and to its last.
struct Reach {
  std::int64_t first = 0, last = 0;
};

std::vector<Reach> reaches_of(const build::Build& build, const Calendar& calendar) {
  std::vector<Reach> reaches;
  for (std::size_t t = 0; t < calendar.paydays.size(); ++t) {
    const BenchTime time = bench_time(build, calendar, static_cast<int>(t));
    const budgets::Date payday = t == 0 ? calendar.first_payday : calendar.paydays[t];
    if (!time.evenings.empty())
      reaches.push_back({time.evenings.front().date - payday, time.evenings.back().date - payday});
  }
  return reaches;
}

/// In at least half of the stages what takes so long misses the first session, and in none the last.
bool waits_for_the_next(const std::vector<Reach>& reaches, std::int64_t lead) {
  const auto missed =
      std::count_if(reaches.begin(), reaches.end(), [&](const Reach& r) { return lead > r.first; });
  return 2 * missed >= static_cast<std::ptrdiff_t>(reaches.size()) &&
         std::all_of(reaches.begin(), reaches.end(), [&](const Reach& r) { return lead <= r.last; });
}

}  // namespace

std::optional<build::Diagnostic> goods_day_hint(const build::Build& build) {
  if (build.bench.sessions.empty() || build.bench.days_after_payday > 0) return std::nullopt;
  const std::vector<Reach> reaches = reaches_of(build, calendar_of(build.money));
  int waiting = 0, days = 0;
  for (const build::Article& article : build.articles) {
    const auto soonest =
        std::min_element(article.offers.begin(), article.offers.end(),
                         [](const auto& a, const auto& b) { return a.lead_days < b.lead_days; });
    if (soonest == article.offers.end() || !waits_for_the_next(reaches, soonest->lead_days)) continue;
    ++waiting;
    days = std::max(days, soonest->lead_days);
  }
  if (waiting == 0) return std::nullopt;
  return build::Diagnostic{
      build::Severity::hint,
      build.file,
      {},
      "/bench/days_after_payday",
      "none beside sessions",
      fmt::format("perhaps {}: goods that arrive after a stage's first session are for the "
                  "next stage's work, which here are {} of {} articles; with {} days the "
                  "stage's work waits for them",
                  days, waiting, build.articles.size(), days),
      {}};
}

}  // namespace fettlefund::planning
