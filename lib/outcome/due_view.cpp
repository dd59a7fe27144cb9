#include <algorithm>

#include "budgets/values/lists.hpp"
#include "lib/outcome/view.hpp"
#include "lib/staging/due_extra.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

/// The stage in which a fitted thing goes, and the job that takes it off; stage_count and -1 if it stays.
std::pair<int, int> gone(const View& view, const std::vector<int>& replacing) {
  std::pair<int, int> first{view.problem.stage_count(), -1};
  for (const int j : replacing) {
    if (const int t = view.stage_of(j); t >= 0 && t < first.first) first = {t, j};
  }
  return first;
}

}  // namespace

std::vector<DuePart> due_parts(const View& view, int stage) {
  const IdTable jobs(view.build.jobs), removals(view.build.removals);
  std::optional<ExtraOf> extra_of;  // only where something is due: it goes through all earlier stages
  std::vector<DuePart> parts;
  for (const build::Fitted& fitted : view.build.fitted) {
    const std::optional<Date> due = due_date(fitted);
    if (!due || *due >= view.staging.calendar.end) continue;
    const std::vector<int> replacing = jobs.find_all(fitted.replaced_by);
    const auto [leaves, by] = gone(view, replacing);
    if (leaves < stage) continue;
    bool open = leaves == stage;
    for (const int r : removals.find_all(fitted.reached_by))
      open |= budgets::contains(view.cost(stage).opened, r);
    if (!open) continue;
    DuePart& part = parts.emplace_back();
    part.fitted = fitted.id;
    part.name = fitted.name;
    part.stage = view.place_of(stage);
    part.due = *due;
    part.overdue_months = months_between(*due, view.stage(stage).bench);
    part.chosen = leaves == stage;
    const int job = by >= 0 ? by : replacing.empty() ? -1 : replacing.front();
    if (job < 0) continue;
    if (by >= 0) part.renewed_in = view.place_of(leaves);
    part.job = view.job(job).id;
    if (!extra_of) extra_of.emplace(view, stage);
    const Extra extra = extra_of->job(job);
    part.extra_money = extra.money;
    part.extra_minutes = extra.minutes;
  }
  return parts;
}

}  // namespace fettlefund::planning
