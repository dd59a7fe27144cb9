#include "budgets/values/money.hpp"

#include <algorithm>
#include <limits>

namespace fettlefund::budgets {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Takes the leading digits off `text`.
std::string_view take_digits(std::string_view& text) {
  std::size_t n = 0;
  while (n < text.size() && is_digit(text[n])) ++n;
  const std::string_view digits = text.substr(0, n);
  text.remove_prefix(n);
  return digits;
}

/// Takes an optional sign off `text`; true for minus.
bool take_sign(std::string_view& text) {
  if (text.empty() || (text.front() != '-' && text.front() != '+')) return false;
  const bool minus = text.front() == '-';
  text.remove_prefix(1);
  return minus;
}

/// A number as written: digits before and after the point, and a power of ten.
struct Written {
  bool negative = false;
  std::string_view whole, decimals;
  std::int64_t exponent = 0;  // held within +-kFarExponent
};

/// So far that no text that fits in memory has digits enough to come back into range.
constexpr std::int64_t kFarExponent = std::int64_t{1} << 56;

std::int64_t exponent_of(std::string_view digits, bool negative) {
  std::int64_t exponent = 0;
  for (const char c : digits) exponent = std::min(exponent * 10 + (c - '0'), kFarExponent);
  return negative ? -exponent : exponent;
}

std::optional<Written> take_apart(std::string_view text) {
  Written number;
  number.negative = take_sign(text);
  number.whole = take_digits(text);
  if (number.whole.empty()) return std::nullopt;
  if (!text.empty() && text.front() == '.') {
    text.remove_prefix(1);
    number.decimals = take_digits(text);
    if (number.decimals.empty()) return std::nullopt;
  }
  if (!text.empty() && (text.front() == 'e' || text.front() == 'E')) {
    text.remove_prefix(1);
    const bool negative = take_sign(text);
    const std::string_view digits = take_digits(text);
    if (digits.empty()) return std::nullopt;
    number.exponent = exponent_of(digits, negative);
  }
  if (!text.empty()) return std::nullopt;
  return number;
}

/// The number's digits in one row, without zeros at either end; empty for zero. Moves the exponent along.
std::string significant(Written& number) {
  std::string digits = std::string(number.whole) + std::string(number.decimals);
  number.exponent -= static_cast<std::int64_t>(number.decimals.size());
  const std::size_t last = digits.find_last_not_of('0');
  if (last == std::string::npos) return "";
  number.exponent += static_cast<std::int64_t>(digits.size() - last - 1);
  digits.resize(last + 1);
  return digits.substr(digits.find_first_not_of('0'));
}

/// `digits` with `zeros` noughts behind, if that fits 64 bits with the sign.
std::optional<std::int64_t> to_minor(const std::string& digits, std::int64_t zeros, bool negative) {
  constexpr std::int64_t kMostDigits = std::numeric_limits<std::int64_t>::digits10 + 1;
  if (static_cast<std::int64_t>(digits.size()) > kMostDigits || zeros > kMostDigits) return std::nullopt;
  std::int64_t minor = 0;
  for (const char c : digits + std::string(static_cast<std::size_t>(zeros), '0')) {
    const std::int64_t step = negative ? '0' - c : c - '0';
    if (__builtin_mul_overflow(minor, std::int64_t{10}, &minor)) return std::nullopt;
    if (__builtin_add_overflow(minor, step, &minor)) return std::nullopt;
  }
  return minor;
}

}  // namespace

Money operator+(Money a, Money b) {
  std::int64_t sum = 0;
  if (__builtin_add_overflow(a.minor_, b.minor_, &sum)) throw MoneyOverflow();
  return Money(sum);
}

Money operator-(Money a, Money b) {
  std::int64_t difference = 0;
  if (__builtin_sub_overflow(a.minor_, b.minor_, &difference)) throw MoneyOverflow();
  return Money(difference);
}

Money operator*(Money a, std::int64_t times) {
  std::int64_t product = 0;
  if (__builtin_mul_overflow(a.minor_, times, &product)) throw MoneyOverflow();
  return Money(product);
}

Money percentage_rounded_up(Money amount, std::int64_t basis_points) {
  const Money product = amount * basis_points;
  return Money::of_minor(product.minor() / 10000 + (product.minor() % 10000 != 0 ? 1 : 0));
}

MoneyReading read_money(std::string_view text, const Currency& currency) {
  std::optional<Written> number = take_apart(text);
  if (!number) return {std::nullopt, MoneyFault::not_a_number};
  const std::string digits = significant(*number);
  if (digits.empty()) return {Money(), std::nullopt};
  const std::int64_t zeros = number->exponent + currency.digits;
  if (zeros < 0) return {std::nullopt, MoneyFault::too_many_decimals};
  const std::optional<std::int64_t> minor = to_minor(digits, zeros, number->negative);
  if (!minor) return {std::nullopt, MoneyFault::out_of_range};
  return {Money::of_minor(*minor), std::nullopt};
}

std::string write_money(Money amount, const Currency& currency) {
  const bool negative = amount.minor() < 0;
  const std::uint64_t bits = static_cast<std::uint64_t>(amount.minor());
  std::string text = std::to_string(negative ? 0 - bits : bits);
  const std::size_t decimals = static_cast<std::size_t>(currency.digits);
  if (text.size() <= decimals) text.insert(0, decimals + 1 - text.size(), '0');
  if (decimals > 0) text.insert(text.size() - decimals, 1, '.');
  return negative ? "-" + text : text;
}

}  // namespace fettlefund::budgets
