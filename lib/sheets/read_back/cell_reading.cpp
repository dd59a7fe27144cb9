#include "lib/sheets/read_back/cell_reading.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "lib/text/ascii.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {
namespace {

using Kind = StoredCell::Kind;

constexpr double kMost = 1e13;   // smallest coins: what log and sheets can hold is less
constexpr double kSlack = 1e-6;  // of the last decimal: what other programs lose in rounding

/// Takes out blanks of any kind: the plain one and the two that do not break.
std::string without_blanks(const std::string& text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::string_view rest = std::string_view(text).substr(at);
    const std::size_t blank = rest.starts_with("\xC2\xA0") ? 2 : rest.starts_with("\xE2\x80\xAF") ? 3 : 0;
    if (blank == 0 && rest.front() != ' ' && rest.front() != '\t' && rest.front() != '\n')
      out += rest.front();
    at += std::max<std::size_t>(blank, 1);
  }
  return out;
}

/// Whether `mark` stands between groups of three digits only, the first of one to three.
bool groups_thousands(std::string_view digits, char mark) {
  std::size_t group = digits.find(mark);
  if (group == 0 || group > 3) return false;
  for (std::size_t at = group + 1; at <= digits.size(); at += 4) {
    const std::size_t end = std::min(digits.find(mark, at), digits.size());
    if (end - at != 3) return false;
  }
  return true;
}

/// Digits with at most one point, or nothing where the text is no number or could be two.
std::optional<std::string> plain_decimal(std::string text) {
  const bool minus = text.starts_with('-');
  if (minus || text.starts_with('+')) text.erase(0, 1);
  const auto known = [](char c) { return text::is_digit(c) || c == '.' || c == ','; };
  if (text.empty() || !std::all_of(text.begin(), text.end(), known) ||
      !std::any_of(text.begin(), text.end(), text::is_digit))
    return std::nullopt;
  const std::size_t last = text.find_last_of(".,");
  if (last == std::string::npos) return (minus ? "-" : "") + text;
  const char mark = text[last], other = mark == '.' ? ',' : '.';
  std::string whole = text.substr(0, last);
  const std::string rest = text.substr(last + 1);
  if (whole.find(mark) != std::string::npos) return std::nullopt;  // 1.234.567: thousands, or a slip
  if (whole.find(other) != std::string::npos) {
    if (!groups_thousands(whole, other)) return std::nullopt;
    std::erase(whole, other);
  } else if (rest.size() == 3 && !whole.empty() && whole != "0" && whole.size() <= 3) {
    return std::nullopt;
  }
  if (rest.empty()) return std::nullopt;
  return (minus ? "-" : "") + (whole.empty() ? "0" : whole) + "." + rest;
}

/// The number times 10^digits, if that is whole but for what was lost in rounding.
std::optional<std::int64_t> scaled(double number, int digits) {
  const double units = number * std::pow(10, digits);
  if (std::abs(units) > kMost) return std::nullopt;
  const double whole = std::round(units);
  if (std::abs(units - whole) > std::max(kSlack, std::abs(units) * 1e-14)) return std::nullopt;
  return static_cast<std::int64_t>(whole);
}

/// As ROUND of the spreadsheets: half away from zero.
std::optional<std::int64_t> rounded_to(double number, int digits) {
  const double units = number * std::pow(10, digits);
  if (std::abs(units) > kMost) return std::nullopt;
  return std::llround(units + std::copysign(kSlack / 10, units));
}

std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(" \t\r\n");
  return begin == std::string::npos ? "" : text.substr(begin, text.find_last_not_of(" \t\r\n") - begin + 1);
}

bool is_empty(const StoredCell* cell) {
  return cell == nullptr || (cell->kind == Kind::blank && !cell->computed) ||
         (cell->kind == Kind::text && trimmed(cell->text).empty());
}

/// A figure that is shown as a day or a clock time is none: "6:00" would be a quarter, "12/5" some 46,000.
bool is_day_or_time(const StoredCell& cell) { return cell.as_day || cell.as_time; }

std::string why_not(const StoredCell& cell, const std::string& expected) {
  if (cell.computed && cell.kind == Kind::blank)
    return expected +
           "; the formula's result is not stored: open the workbook in a spreadsheet program and "
           "save it there";
  if (is_day_or_time(cell)) return expected + fmt::format(", not a {}", cell.as_day ? "day" : "clock time");
  return expected;
}

/// The number that a text is, without its unit.
std::optional<std::string> decimal_of(const std::string& typed, const std::string& unit) {
  std::string text = without_blanks(typed);
  if (!unit.empty() && text.starts_with(unit)) text.erase(0, unit.size());
  if (!unit.empty() && text.ends_with(unit)) text.resize(text.size() - unit.size());
  return plain_decimal(text);
}

/// Units of 10^-digits that the cell means.
std::optional<std::int64_t> units_of(const StoredCell& cell, int digits, const std::string& unit) {
  if (is_day_or_time(cell)) return std::nullopt;
  if (cell.kind == Kind::number)
    return cell.computed ? rounded_to(cell.number, digits) : scaled(cell.number, digits);
  if (cell.kind != Kind::text) return std::nullopt;
  const auto decimal = decimal_of(cell.text, unit);
  if (!decimal) return std::nullopt;
  const auto reading = budgets::read_money(*decimal, {"", digits});
  if (!reading.amount || std::abs(static_cast<double>(reading.amount->minor())) > kMost) return std::nullopt;
  return reading.amount->minor();
}

}  // namespace

std::string number_text(double number) {
  char text[32];
  const auto [end, fault] = std::to_chars(text, text + sizeof text, number);
  return fault == std::errc() ? std::string(text, end) : "?";
}

namespace {

/// A number as the cell shows it: 0.25 as 06:00. Days are those of the system that counts from 1900.
std::string shown_number(const StoredCell& cell) {
  const double whole = std::floor(cell.number);
  const int minutes = static_cast<int>(std::lround((cell.number - whole) * 1440)) % 1440;
  const std::string time = fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
  if (cell.as_day && whole >= 61 && whole <= 2'958'465) {
    const std::string day = budgets::write_date(budgets::Date{static_cast<std::int32_t>(whole) - 25'569});
    return cell.as_time && minutes != 0 ? day + " " + time : day;
  }
  return cell.as_time && whole == 0 ? time : number_text(cell.number);
}

}  // namespace

std::string shown_text(const StoredCell* cell) {
  if (is_empty(cell)) return "nothing";
  switch (cell->kind) {
    case Kind::number:
      return shown_number(*cell);
    case Kind::boolean:
      return cell->number != 0 ? "TRUE" : "FALSE";
    case Kind::blank:
      return "a formula";
    case Kind::text:
      return "'" + text::shortened(cell->text, 60) + "'";
    default:
      return text::shortened(cell->text, 60);
  }
}

CellReading<budgets::Money> read_amount(const StoredCell* cell, const budgets::Currency& currency) {
  if (is_empty(cell)) return {};
  const auto units = units_of(*cell, currency.digits, std::string(currency.code));
  if (units) return {budgets::Money::of_minor(*units), ""};
  return {{},
          why_not(*cell, fmt::format("an amount of {} like {}", currency.code,
                                     budgets::write_money(budgets::Money::of_minor(12995), currency)))};
}

CellReading<std::int64_t> read_hours(const StoredCell* cell) {
  if (is_empty(cell)) return {};
  const auto hundredths = units_of(*cell, 2, "h");
  if (hundredths && *hundredths >= 0 && *hundredths <= 1'000'000) return {(*hundredths * 60 + 50) / 100, ""};
  return {{}, why_not(*cell, "decimal hours like 1.5, at most two decimals")};
}

CellReading<std::int64_t> read_whole(const StoredCell* cell, std::int64_t least, std::int64_t most) {
  if (is_empty(cell)) return {};
  auto number =
      cell->kind == Kind::number && !is_day_or_time(*cell) ? scaled(cell->number, 0) : units_of(*cell, 0, "");
  if (number && *number >= least && *number <= most) return {number, ""};
  return {{}, why_not(*cell, fmt::format("a whole number, {} to {}", least, most))};
}

CellReading<std::string> read_decimal(const StoredCell* cell, int digits, const std::string& unit) {
  if (is_empty(cell)) return {};
  if (cell->kind == Kind::text) {
    const auto decimal = decimal_of(cell->text, unit);
    return decimal ? CellReading<std::string>{*decimal, ""} : CellReading<std::string>{{}, "a number"};
  }
  if (cell->kind != Kind::number) return {{}, why_not(*cell, "a number")};
  const auto units = cell->computed ? rounded_to(cell->number, digits) : scaled(cell->number, digits);
  if (!units) return {number_text(cell->number), ""};
  std::string text = budgets::write_money(budgets::Money::of_minor(*units), {"", digits});
  if (digits > 0) text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return {text, ""};
}

CellReading<budgets::Date> read_day(const StoredCell* cell, bool from_1904) {
  if (is_empty(cell)) return {};
  std::optional<budgets::Date> day;
  if (cell->kind == Kind::text) day = budgets::read_date(trimmed(cell->text));
  if (cell->kind == Kind::iso_date) day = budgets::read_date(cell->text.substr(0, 10));
  const double first = from_1904 ? 0 : 61, last = 2'958'465;  // 1900-03-01 to 9999-12-31
  if (cell->kind == Kind::number && cell->number >= first && cell->number <= last &&
      cell->number == std::floor(cell->number)) {
    day = budgets::Date{static_cast<std::int32_t>(cell->number) - (from_1904 ? 24'107 : 25'569)};
  }
  if (day) return {day, ""};
  return {{}, why_not(*cell, "a day like 2027-03-05")};
}

CellReading<bool> read_tick(const StoredCell* cell) {
  if (is_empty(cell)) return {false, ""};
  const std::string text = cell->kind == Kind::text ? trimmed(cell->text) : "";
  if (text == "x" || text == "X") return {true, ""};
  return {{}, why_not(*cell, "an x or nothing")};
}

CellReading<std::string> read_words(const StoredCell* cell) {
  if (is_empty(cell)) return {};
  if (cell->kind == Kind::text) return {trimmed(cell->text), ""};
  if (cell->kind == Kind::number && cell->as_day) return {shown_text(cell), ""};
  if (cell->kind == Kind::number && cell->as_time) return {{}, why_not(*cell, "a text")};
  if (cell->kind == Kind::number) return {number_text(cell->number), ""};
  if (cell->kind == Kind::boolean || cell->kind == Kind::iso_date) return {shown_text(cell), ""};
  return {{}, why_not(*cell, "a text")};
}

}  // namespace fettlefund::sheets
