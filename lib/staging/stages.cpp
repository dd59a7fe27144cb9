#include "lib/staging/stages.hpp"

#include <algorithm>
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

std::int64_t bench_minutes(const build::Bench& bench, int stage) {
  std::int64_t minutes = bench.minutes;
  for (const build::BenchException& exception : bench.exceptions) {
    if (exception.stage == stage + 1) minutes = exception.minutes;
  }
  return minutes;
}

namespace {

void lower_floors(std::vector<budgets::Stage>& stages, Money cash) {
  for (budgets::Stage& stage : stages) {
    cash += stage.cash_in;
    stage.floor = std::min(stage.floor, cash);
  }
}

}  // namespace

std::vector<budgets::Stage> stages_of(const build::Build& build, const Calendar& calendar) {
  std::vector<budgets::Stage> stages;
  for (std::size_t i = 0; i < calendar.paydays.size(); ++i) {
    const int at = static_cast<int>(i);
    budgets::Stage stage;
    stage.payday = calendar.paydays[i];
    stage.bench = (at == 0 ? calendar.first_payday : stage.payday) + build.bench.days_after_payday;
    stage.cash_in = payday_amount(build.money, calendar, at);
    for (const build::Extra& extra : extras_of(build.money, calendar, at)) stage.cash_in += extra.amount;
    stage.floor = build.money.keep_back + bills_before_next(build.money, calendar, at);
    stage.minutes = bench_minutes(build.bench, build.money.stages_over + at);
    if (at == 0) stage.minutes = std::max<std::int64_t>(0, stage.minutes - build.bench.minutes_gone);
    stages.push_back(stage);
  }
  if (build.money.from) lower_floors(stages, build.money.opening);
  return stages;
}

}  // namespace fettlefund::planning
