#include "budgets/values/paydays.hpp"

#include <algorithm>
#include <optional>
#include <stdexcept>

namespace fettlefund::budgets {
namespace {

constexpr std::chrono::year kLastYear{9999};

using Holidays = std::set<Date>;

bool is_working(Date day, const Holidays& holidays) { return !is_weekend(day) && !holidays.contains(day); }

Date working_day_by(Date day, const Holidays& holidays) {
  while (!is_working(day, holidays)) day = day - 1;
  return day;
}

Date day_in_month(std::chrono::year_month month, unsigned day) {
  const std::chrono::year_month_day last(month / std::chrono::last);
  return make_date(static_cast<int>(month.year()), static_cast<unsigned>(month.month()),
                   std::min(day, static_cast<unsigned>(last.day())));
}

/// `count` days, one a month from the month of `from` on, where `day_of` gives the month's day or nothing.
template <class DayOf>
std::vector<Date> monthly(Date from, int count, DayOf day_of) {
  std::vector<Date> days;
  const std::chrono::year_month_day start = calendar(from);
  for (std::chrono::year_month month = start.year() / start.month();
       static_cast<int>(days.size()) < count && month.year() <= kLastYear; month += std::chrono::months(1)) {
    const std::optional<Date> day = day_of(month);
    if (day && *day >= from && (days.empty() || days.back() < *day)) days.push_back(*day);
  }
  return days;
}

std::vector<Date> of(const ListedDays& rule, int count, const Holidays&) {
  const std::vector<Date>& days = rule.days;
  const auto out_of_order = [](Date a, Date b) { return a >= b; };
  if (std::adjacent_find(days.begin(), days.end(), out_of_order) != days.end())
    throw std::invalid_argument("listed paydays must be strictly increasing");
  const std::size_t taken = std::min(days.size(), static_cast<std::size_t>(count));
  return {days.begin(), days.begin() + static_cast<std::ptrdiff_t>(taken)};
}

std::vector<Date> of(const EveryWeeks& rule, int count, const Holidays& holidays) {
  if (rule.weeks < 1) throw std::invalid_argument("paydays must be at least one week apart");
  const std::int64_t end = make_date(9999, 12, 31).days;
  std::vector<Date> days;
  std::int64_t day = rule.first.days;
  for (; static_cast<int>(days.size()) < count && day <= end; day += std::int64_t{rule.weeks} * 7) {
    const Date own{static_cast<std::int32_t>(day)};
    const Date paid = holidays.contains(own) ? working_day_by(own, holidays) : own;
    if (days.empty() || days.back() < paid) days.push_back(paid);
  }
  return days;
}

std::vector<Date> of(const DayOfMonth& rule, int count, const Holidays& holidays) {
  if (rule.day < 1 || rule.day > 31) throw std::invalid_argument("a day of the month is 1 to 31");
  return monthly(rule.from, count, [&](std::chrono::year_month month) -> std::optional<Date> {
    return working_day_by(day_in_month(month, static_cast<unsigned>(rule.day)), holidays);
  });
}

std::vector<Date> of(const LastWorkingDay& rule, int count, const Holidays& holidays) {
  return monthly(rule.from, count, [&](std::chrono::year_month month) -> std::optional<Date> {
    const Date day = working_day_by(day_in_month(month, 31), holidays);
    if (day < day_in_month(month, 1)) return std::nullopt;
    return day;
  });
}

}  // namespace

std::vector<Date> paydays(const PaydayRule& rule, int count, const std::set<Date>& holidays) {
  return std::visit([&](const auto& kind) { return of(kind, std::max(count, 0), holidays); }, rule);
}

}  // namespace fettlefund::budgets
