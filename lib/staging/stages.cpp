#include "lib/staging/stages.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "budgets/values/paydays.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Date;
using budgets::Money;

Date guessed_end(const std::vector<Date>& days) {
  if (days.empty()) return Date{};
  if (days.size() == 1) return days.back() + 30;
  return days.back() + (days.back() - days[days.size() - 2]);
}

/// Leaves out what is over.
void start(Calendar& calendar, const build::MoneyPlan& money) {
  std::vector<Date>& days = calendar.paydays;
  days.erase(days.begin(), days.begin() + std::min<std::ptrdiff_t>(money.stages_over, std::ssize(days)));
  if (days.empty()) return;
  calendar.first_payday = days.front();
  if (!money.from) return;
  calendar.first_is_paid = days.front() <= *money.from;
  days.front() = std::max(days.front(), *money.from);
}

/// The first day after the stage that is not its own any more.
Date next_payday(const Calendar& calendar, int stage) {
  const auto next = static_cast<std::size_t>(stage) + 1;
  return next < calendar.paydays.size() ? calendar.paydays[next] : calendar.end;
}

}  // namespace

Calendar calendar_of(const build::MoneyPlan& money) {
  std::vector<Date> days = budgets::paydays(money.rule, money.stages + 1, money.holidays);
  const bool known = static_cast<int>(days.size()) > money.stages;
  const Date end = known ? days.back() : guessed_end(days);
  if (known) days.pop_back();
  Calendar calendar{std::move(days), end, {}, false};
  start(calendar, money);
  return calendar;
}

Money payday_amount(const build::MoneyPlan& money, const Calendar& calendar, int stage) {
  return stage == 0 && calendar.first_is_paid ? Money() : money.amount;
}

std::vector<build::Extra> extras_of(const build::MoneyPlan& money, const Calendar& calendar, int stage) {
  const auto at = static_cast<std::size_t>(stage);
  std::vector<build::Extra> found;
  for (const build::Extra& extra : money.extras) {
    const bool late_enough = stage == 0 || extra.date > calendar.paydays[at - 1];
    if (late_enough && extra.date <= calendar.paydays[at]) found.push_back(extra);
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.date < b.date; });
  return found;
}

Money bills_before_next(const build::MoneyPlan& money, const Calendar& calendar, int stage) {
  std::map<Date, Money> by_day;
  for (const build::Extra& extra : money.extras) {
    const bool between = extra.date > calendar.paydays[static_cast<std::size_t>(stage)] &&
                         extra.date < next_payday(calendar, stage);
    if (between) by_day[extra.date] += extra.amount;
  }
  Money running, deepest;
  for (const auto& [day, amount] : by_day) {
    running += amount;
    deepest = std::min(deepest, running);
  }
  return Money() - deepest;
}

int weekday(Date day) { return ((day.days + 3) % 7 + 7) % 7; }

std::int64_t bench_minutes(const build::Bench& bench, int stage) {
  std::int64_t minutes = bench.minutes;
  for (const build::BenchException& exception : bench.exceptions) {
    if (exception.stage == stage + 1) minutes = exception.minutes;
  }
  return minutes;
}

namespace {

/// From `first` up to the day before `end`. A date goes before its weekday.
std::vector<Evening> evenings_between(const build::Bench& bench, Date first, Date end) {
  std::map<Date, std::int64_t> dated;
  std::array<std::int64_t, 7> weekly = {};
  for (const build::Session& session : bench.sessions) {
    if (session.date) dated[*session.date] = session.minutes;
    if (session.weekday) weekly[static_cast<std::size_t>(*session.weekday)] = session.minutes;
  }
  std::vector<Evening> evenings;
  for (Date day = first; day < end; day = day + 1) {
    const auto own = dated.find(day);
    const bool free = own == dated.end() && bench.no_sessions.contains(day);
    const std::int64_t usual = free ? 0 : weekly[static_cast<std::size_t>(weekday(day))];
    const std::int64_t minutes = own == dated.end() ? usual : own->second;
    if (minutes > 0) evenings.push_back({day, minutes});
  }
  return evenings;
}

std::int64_t sum_of(const std::vector<Evening>& evenings) {
  std::int64_t sum = 0;
  for (const Evening& evening : evenings) sum += evening.minutes;
  return sum;
}

/// Leaves of a stage under way what is still to come, and no more than what has been used leaves of it.
void leave_rest(std::vector<Evening>& evenings, Date from, std::int64_t gone) {
  const std::int64_t left = std::max<std::int64_t>(0, sum_of(evenings) - gone);
  std::erase_if(evenings, [&](const Evening& evening) { return evening.date < from; });
  std::int64_t over = std::max<std::int64_t>(0, sum_of(evenings) - left);
  for (Evening& evening : evenings) {
    const std::int64_t taken = std::min(over, evening.minutes);
    evening.minutes -= taken;
    over -= taken;
  }
  std::erase_if(evenings, [](const Evening& evening) { return evening.minutes == 0; });
}

bool is_free(const build::Bench& bench, int stage) {
  return std::any_of(bench.exceptions.begin(), bench.exceptions.end(),
                     [&](const build::BenchException& one) { return one.stage == stage + 1; });
}

BenchTime time_of_sessions(const build::Build& build, const Calendar& calendar, int at, Date payday) {
  BenchTime time;
  const Date end = next_payday(calendar, at);
  if (!is_free(build.bench, build.money.stages_over + at))
    time.evenings = evenings_between(build.bench, payday, end);
  if (at == 0 && build.money.from) leave_rest(time.evenings, *build.money.from, build.bench.minutes_gone);
  const Date goods = payday + build.bench.days_after_payday;
  if (!time.evenings.empty() && time.evenings.back().date < goods) time.evenings.clear();
  time.first = time.last = end - 1;
  if (time.evenings.empty()) return time;
  const auto counted = std::find_if(time.evenings.begin(), time.evenings.end(),
                                    [&](const Evening& evening) { return evening.date >= goods; });
  time.minutes = sum_of({counted, time.evenings.end()});
  time.first = counted->date;
  time.last = time.evenings.back().date;
  return time;
}

/// With bench dates and hours so far within the stage.
void set_bench(budgets::Stage& stage, const BenchTime& time) {
  stage.bench = time.first;
  stage.minutes = time.minutes;
  if (time.last == time.first) return;
  stage.last = time.last;
  std::int64_t so_far = 0;
  for (const Evening& evening : time.evenings) {
    if (evening.date < time.first) continue;
    so_far += evening.minutes;
    if (evening.date < time.last) stage.marks.push_back({evening.date, so_far});
  }
}

void lower_floors(std::vector<budgets::Stage>& stages, Money cash) {
  for (budgets::Stage& stage : stages) {
    cash += stage.cash_in;
    stage.floor = std::min(stage.floor, cash);
  }
}

}  // namespace

BenchTime bench_time(const build::Build& build, const Calendar& calendar, int at) {
  const Date payday = at == 0 ? calendar.first_payday : calendar.paydays[static_cast<std::size_t>(at)];
  if (!build.bench.sessions.empty()) return time_of_sessions(build, calendar, at, payday);
  const Date day = payday + build.bench.days_after_payday;
  std::int64_t minutes = bench_minutes(build.bench, build.money.stages_over + at);
  if (at == 0) minutes = std::max<std::int64_t>(0, minutes - build.bench.minutes_gone);
  return {day, day, minutes, {}};
}

std::vector<budgets::Stage> stages_of(const build::Build& build, const Calendar& calendar) {
  std::vector<budgets::Stage> stages;
  for (std::size_t i = 0; i < calendar.paydays.size(); ++i) {
    const int at = static_cast<int>(i);
    budgets::Stage stage;
    stage.payday = calendar.paydays[i];
    set_bench(stage, bench_time(build, calendar, at));
    stage.cash_in = payday_amount(build.money, calendar, at);
    for (const build::Extra& extra : extras_of(build.money, calendar, at)) stage.cash_in += extra.amount;
    stage.floor = build.money.keep_back + bills_before_next(build.money, calendar, at);
    stages.push_back(stage);
  }
  if (build.money.from) lower_floors(stages, build.money.opening);
  return stages;
}

}  // namespace fettlefund::planning
