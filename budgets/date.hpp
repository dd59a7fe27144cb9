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

Date make_date(int year, unsigned month,
               unsigned day);  ///< throws std::invalid_argument if there is no such day
std::chrono::year_month_day calendar(Date date);
bool is_weekend(Date date);  ///< Saturday or Sunday

/// Reads `yyyy-mm-dd` (exactly ten characters, years 1900 to 9999); nothing if the text is no such day.
std::optional<Date> read_date(std::string_view text);
std::string write_date(Date date);  ///< `yyyy-mm-dd`

/// Serial day of ISO/IEC 29500 spreadsheets, 1900 system, for dates from 1900-03-01: 1970-01-01 is 25569.
std::int64_t spreadsheet_serial(Date date);

}  // namespace fettlefund::budgets
