#include "lib/fitment/units.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <stdexcept>

#include "lib/text/ascii.hpp"

#include <fmt/format.h>

namespace fettlefund::fitment {
namespace {

constexpr std::size_t longest_quantity = 64;

std::size_t count_digits(std::string_view text, std::size_t from) {
  std::size_t end = from;
  while (end < text.size() && text::is_digit(text[end])) ++end;
  return end - from;
}

/// Length of the plain decimal at the start of the text, 0 if there is none.
std::size_t decimal_length(std::string_view text) {
  const std::size_t whole = count_digits(text, 0);
  if (whole == 0 || whole >= text.size() || text[whole] != '.') return whole;
  const std::size_t decimals = count_digits(text, whole + 1);
  return decimals == 0 ? 0 : whole + 1 + decimals;
}

QuantityReading no_quantity(std::string_view why) { return {std::nullopt, std::string(why)}; }

}  // namespace

std::string write_number(double value, int digits) {
  if (!std::isfinite(value)) throw std::domain_error("only a finite number can be written");
  require_range("digits after the point", digits, 0, 9);
  std::string text = fmt::format("{:.{}f}", value, digits);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  if (is_zero && text.front() == '-') text.erase(0, 1);
  return text;
}

std::string write_signed(double value, int digits) {
  std::string text = write_number(value, digits);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  return is_zero || text.front() == '-' ? text : "+" + text;
}

void require_range(std::string_view what, double value, double low, double high) {
  if (value >= low && value <= high) return;
  throw std::domain_error(fmt::format("{} must be {} to {}, not {}", what, low, high, value));
}

QuantityReading read_quantity(std::string_view text) {
  text = trimmed(text);
  if (text.empty()) return no_quantity("nothing written where a number and a unit belong");
  if (text.size() > longest_quantity) return no_quantity("too long for a number and a unit");
  const std::size_t length = decimal_length(text);
  if (length == 0) return no_quantity("must start with a plain number such as 85 or 62.5");
  Quantity quantity;
  std::from_chars(text.data(), text.data() + length, quantity.value, std::chars_format::fixed);
  quantity.unit = trimmed(text.substr(length));
  if (quantity.unit.find_first_of("0123456789,") != std::string::npos) {
    return no_quantity("write one number, with a point before the decimals and no thousands mark");
  }
  return {quantity, ""};
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

}  // namespace fettlefund::fitment
