#include "lib/staging/want.hpp"

#include <algorithm>
#include <chrono>

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

int want_on(const build::Build& build, const std::vector<int>& renewed, int own, Date day) {
  int want = own;
  for (const int f : renewed) want = std::max(want, due_want(build.fitted[static_cast<std::size_t>(f)], day));
  return want;
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

std::vector<int> renewed_by(const build::Build& build, int job) {
  const build::Id& id = build.jobs[static_cast<std::size_t>(job)].id;
  std::vector<int> found;
  for (std::size_t f = 0; f < build.fitted.size(); ++f) {
    const auto& by = build.fitted[f].replaced_by;
    if (due_date(build.fitted[f]) && std::find(by.begin(), by.end(), id) != by.end()) {
      found.push_back(static_cast<int>(f));
    }
  }
  return found;
}

std::vector<std::int64_t> worth_of(const build::Build& build, int job,
                                   const std::vector<budgets::Stage>& stages, Date end) {
  const int own = build.jobs[static_cast<std::size_t>(job)].want.value_or(0);
  const std::vector<int> renewed = renewed_by(build, job);
  std::vector<std::int64_t> worth(stages.size(), 0);
  std::int64_t sum = 0;
  Date day = end;
  for (std::size_t t = stages.size(); t-- > 0;) {
    if (renewed.empty()) {
      worth[t] = std::int64_t{own} * std::max(0, end - stages[t].bench) * worth_per_want_day;
      continue;
    }
    while (day > stages[t].bench) sum += want_on(build, renewed, own, day = day - 1);
    worth[t] = sum * worth_per_want_day;
  }
  return worth;
}

}  // namespace fettlefund::planning
