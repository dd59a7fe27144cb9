#pragma once
#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace fettlefund::budgets {

/// A calendar day of the proleptic Gregorian calendar, counted in days from 1970-01-01. No time of day, no
/// zone.
struct Date {
  std::int32_t days = 0;

  friend constexpr auto operator<=>(Date, Date) = default;
  friend constexpr Date operator+(Date d, int n) { return Date{d.days + n}; }
  friend constexpr Date operator-(Date d, int n) { return Date{d.days - n}; }
  friend constexpr int operator-(Date a, Date b) { return a.days - b.days; }
};

/// Throws std::invalid_argument if there is no such day. Years -32767 to 32767.
Date make_date(int year, unsigned month, unsigned day);
std::chrono::year_month_day calendar(Date date);
bool is_weekend(Date date);  ///< Saturday or Sunday

/// Reads `yyyy-mm-dd` (exactly ten characters, years 1900 to 9999); nothing if the text is no such day.
std::optional<Date> read_date(std::string_view text);
std::string write_date(Date date);  ///< `yyyy-mm-dd`, for years 0 to 9999

/// Serial day of ISO/IEC 29500 spreadsheets, 1900 system: 1900-01-01 is 1, 1970-01-01 is 25569. That system
/// counts a day 1900-02-29 that never was, so days before 1900-03-01 are one less than the later rule would
/// say. Before 1900-01-01 the result is below 1, which no spreadsheet shows as a date.
std::int64_t spreadsheet_serial(Date date);

}  // namespace fettlefund::budgets
