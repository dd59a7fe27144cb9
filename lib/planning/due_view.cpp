#include <algorithm>

#include "lib/planning/ids.hpp"
#include "lib/planning/view.hpp"
#include "lib/planning/want.hpp"

namespace fettlefund::planning {
namespace {

bool holds(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

/// The stage in which a fitted thing goes, and the job that takes it off; stage_count and -1 if it stays.
std::pair<int, int> gone(const View& view, const std::vector<int>& replacing) {
  std::pair<int, int> first{view.problem.stage_count(), -1};
  for (const int j : replacing) {
    if (const int t = view.stage_of(j); t >= 0 && t < first.first) first = {t, j};
  }
  return first;
}

/// What a job's articles come to at the lowest likely prices, whole packs, stock not counted.
Money goods_at_list(const View& view, int job) {
  Money total = view.job(job).cost;
  for (const ArticleDemand& line : view.staging.demands.jobs[static_cast<std::size_t>(job)].articles) {
    const build::Article& article = view.build.articles[static_cast<std::size_t>(line.article)];
    if (article.offers.empty()) continue;
    Money least = article.offers.front().price.likely;
    for (const build::Offer& offer : article.offers) least = std::min(least, offer.price.likely);
    total += least * ((line.amount + article.pack - 1) / article.pack);
  }
  return total;
}

std::int64_t minutes_more(const View& view, int job, int stage) {
  std::int64_t minutes = view.job(job).minutes;
  for (const int r : view.problem.opened_by(job)) {
    if (!holds(view.cost(stage).opened, r))
      minutes += view.removal(r).minutes_off + view.removal(r).minutes_on;
  }
  return minutes;
}

}  // namespace

std::vector<DuePart> due_parts(const View& view, int stage) {
  const IdTable jobs(view.build.jobs), removals(view.build.removals);
  std::vector<DuePart> parts;
  for (const build::Fitted& fitted : view.build.fitted) {
    const std::optional<Date> due = due_date(fitted);
    if (!due || *due >= view.staging.calendar.end) continue;
    const std::vector<int> replacing = jobs.find_all(fitted.replaced_by);
    const auto [leaves, by] = gone(view, replacing);
    if (leaves < stage) continue;
    bool open = leaves == stage;
    for (const int r : removals.find_all(fitted.reached_by)) open |= holds(view.cost(stage).opened, r);
    if (!open) continue;
    DuePart& part = parts.emplace_back();
    part.fitted = fitted.id;
    part.name = fitted.name;
    part.stage = stage;
    part.due = *due;
    part.overdue_months = months_between(*due, view.stage(stage).bench);
    part.chosen = leaves == stage;
    const int job = part.chosen ? by : replacing.empty() ? -1 : replacing.front();
    if (job < 0) continue;
    part.job = view.job(job).id;
    part.extra_money = goods_at_list(view, job);
    part.extra_minutes = minutes_more(view, job, stage);
  }
  return parts;
}

}  // namespace fettlefund::planning
