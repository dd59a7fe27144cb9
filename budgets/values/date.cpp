#include "budgets/values/date.hpp"

#include <cstdio>
#include <stdexcept>

namespace fettlefund::budgets {
namespace {

std::optional<int> read_digits(std::string_view text) {
  int number = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    number = number * 10 + (c - '0');
  }
  return number;
}

Date to_date(std::chrono::year_month_day day) {
  return Date{static_cast<std::int32_t>(std::chrono::sys_days(day).time_since_epoch().count())};
}

std::chrono::sys_days to_sys_days(Date date) { return std::chrono::sys_days(std::chrono::days(date.days)); }

}  // namespace

Date make_date(int year, unsigned month, unsigned day) {
  const std::chrono::year_month_day wanted{std::chrono::year(year), std::chrono::month(month),
                                           std::chrono::day(day)};
  // The chrono types keep 16 and 8 bits only: compare with what was asked for.
  const bool kept = static_cast<int>(wanted.year()) == year &&
                    static_cast<unsigned>(wanted.month()) == month &&
                    static_cast<unsigned>(wanted.day()) == day;
  if (!kept || !wanted.ok()) throw std::invalid_argument("no such day in the calendar");
  return to_date(wanted);
}

std::chrono::year_month_day calendar(Date date) { return to_sys_days(date); }

bool is_weekend(Date date) {
  const std::chrono::weekday day(to_sys_days(date));
  return day == std::chrono::Saturday || day == std::chrono::Sunday;
}

std::optional<Date> read_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const std::optional<int> year = read_digits(text.substr(0, 4));
  const std::optional<int> month = read_digits(text.substr(5, 2));
  const std::optional<int> day = read_digits(text.substr(8, 2));
  if (!year || !month || !day || *year < 1900) return std::nullopt;
  const std::chrono::year_month_day read{std::chrono::year(*year),
                                         std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*day))};
  if (!read.ok()) return std::nullopt;
  return to_date(read);
}

std::string write_date(Date date) {
  const std::chrono::year_month_day day = calendar(date);
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(day.year()),
                static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
  return text;
}

std::int64_t spreadsheet_serial(Date date) {
  constexpr std::int32_t kFirstOfMarch1900 = -25508;
  return std::int64_t{date.days} + (date.days >= kFirstOfMarch1900 ? 25569 : 25568);
}

}  // namespace fettlefund::budgets
