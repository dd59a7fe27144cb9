#include "lib/staging/want.hpp"

#include <algorithm>
#include <chrono>
#include <map>

#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Date;

Date add_months(Date from, int months) {
  const std::chrono::year_month_day start = budgets::calendar(from);
  const auto month = start.year() / start.month() + std::chrono::months{months};
  const auto last = (month / std::chrono::last).day();
  const auto day = std::min(start.day(), last);
  return budgets::make_date(static_cast<int>(month.year()), static_cast<unsigned>(month.month()),
                            static_cast<unsigned>(day));
}

/// Parts with a due date that the same jobs renew.
struct Group {
  std::vector<int> jobs;  ///< ascending
  std::vector<const build::Fitted*> parts;

  int want(Date day) const {
    int want = 0;
    for (const build::Fitted* part : parts) want = std::max(want, due_want(*part, day));
    return want;
  }
  const build::Id& id() const { return parts.front()->id; }
};

/// By id.
std::vector<Group> groups_of(const build::Build& build) {
  std::map<std::vector<int>, std::map<build::Id, const build::Fitted*>> by_jobs;
  const IdTable jobs(build.jobs);
  for (const build::Fitted& fitted : build.fitted) {
    if (!due_date(fitted)) continue;
    std::vector<int> renewing = jobs.find_all(fitted.replaced_by);
    std::sort(renewing.begin(), renewing.end());
    by_jobs[renewing].emplace(fitted.id, &fitted);
  }
  std::vector<Group> groups;
  for (const auto& [renewing, parts] : by_jobs) {
    Group& group = groups.emplace_back(Group{renewing, {}});
    for (const auto& [id, part] : parts) group.parts.push_back(part);
  }
  std::sort(groups.begin(), groups.end(), [](const Group& a, const Group& b) { return a.id() < b.id(); });
  return groups;
}

/// Can at most one of its jobs be done?
bool exclusive(const build::Build& build, const Group& group) {
  return std::all_of(group.jobs.begin(), group.jobs.end(), [&](int j) {
    const auto& name = build.jobs[static_cast<std::size_t>(j)].one_of;
    return group.jobs.size() == 1 ||
           (!name.empty() && name == build.jobs[static_cast<std::size_t>(group.jobs.front())].one_of);
  });
}

/// The want of each day from the first bench date to the day before the end.
using Wants = std::vector<int>;

Wants own_wants(const build::Build& build, int job, const std::vector<Group>& groups, Date first, Date end) {
  Wants wants(static_cast<std::size_t>(std::max(0, end - first)),
              build.jobs[static_cast<std::size_t>(job)].want.value_or(0));
  for (const Group& group : groups) {
    if (!std::binary_search(group.jobs.begin(), group.jobs.end(), job) || !exclusive(build, group)) continue;
    for (std::size_t d = 0; d < wants.size(); ++d)
      wants[d] = std::max(wants[d], group.want(first + static_cast<int>(d)));
  }
  return wants;
}

/// Raises the wants to those of the group; by how much on each day.
Wants raise(Wants& wants, const Group& group, Date first) {
  Wants more(wants.size(), 0);
  for (std::size_t d = 0; d < wants.size(); ++d) {
    more[d] = std::max(0, group.want(first + static_cast<int>(d)) - wants[d]);
    wants[d] += more[d];
  }
  return more;
}

std::vector<std::int64_t> summed(const Wants& wants, const std::vector<budgets::Stage>& stages, Date first) {
  std::vector<std::int64_t> worth(stages.size(), 0);
  std::int64_t sum = 0;
  std::size_t day = wants.size();
  for (std::size_t t = stages.size(); t-- > 0;) {
    while (day > static_cast<std::size_t>(stages[t].last_day() - first)) sum += wants[--day];
    worth[t] = sum * worth_per_want_day;
  }
  return worth;
}

}  // namespace

std::optional<Date> due_date(const build::Fitted& fitted) {
  if (!fitted.since || !fitted.life_months) return std::nullopt;
  return add_months(*fitted.since, *fitted.life_months);
}

int months_between(Date from, Date to) {
  const auto a = budgets::calendar(from), b = budgets::calendar(to);
  int months = (static_cast<int>(b.year()) - static_cast<int>(a.year())) * 12 +
               static_cast<int>(static_cast<unsigned>(b.month())) -
               static_cast<int>(static_cast<unsigned>(a.month()));
  while (add_months(from, months) > to) --months;
  return months;
}

int due_want(const build::Fitted& fitted, Date day) {
  const std::optional<Date> due = due_date(fitted);
  if (!due || day < *due) return 0;
  const std::int64_t life = std::max(1, *due - *fitted.since);
  const std::int64_t tenths = (std::int64_t{day - *due} * 10 + life - 1) / life;
  return static_cast<int>(std::min<std::int64_t>(due_want_at_most, due_want_at_first + tenths));
}

std::vector<std::int64_t> worth_of(const build::Build& build, int job,
                                   const std::vector<budgets::Stage>& stages, Date end) {
  const Date first = stages.front().bench;
  return summed(own_wants(build, job, groups_of(build), first, end), stages, first);
}

std::vector<budgets::Renewal> renewals_of(const build::Build& build,
                                          const std::vector<budgets::Stage>& stages, Date end) {
  const Date first = stages.front().bench;
  const std::vector<Group> groups = groups_of(build);
  std::map<int, Wants> wants;  // of jobs that share a part, as far as known
  std::vector<budgets::Renewal> renewals;
  for (const Group& group : groups) {
    if (exclusive(build, group)) continue;
    budgets::Renewal& renewal = renewals.emplace_back(budgets::Renewal{group.jobs, {}});
    for (const int job : group.jobs) {
      if (!wants.count(job)) wants.emplace(job, own_wants(build, job, groups, first, end));
      renewal.worth.push_back(summed(raise(wants.at(job), group, first), stages, first));
    }
  }
  return renewals;
}

}  // namespace fettlefund::planning
