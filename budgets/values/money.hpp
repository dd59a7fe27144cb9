#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

namespace fettlefund::budgets {

/// Thrown by Money arithmetic when a result does not fit 64 bits. Checked in every build.
struct MoneyOverflow : std::overflow_error {
  MoneyOverflow() : std::overflow_error("amount of money out of range") {}
};

/// An amount of money in minor units (cents) of a currency known from the context. May be negative.
/// Integers only: there is no conversion from or to floating point.
class Money {
 public:
  constexpr Money() = default;
  static constexpr Money of_minor(std::int64_t minor) { return Money(minor); }
  constexpr std::int64_t minor() const { return minor_; }

  friend constexpr auto operator<=>(Money, Money) = default;
  friend Money operator+(Money a, Money b);             ///< throws MoneyOverflow
  friend Money operator-(Money a, Money b);             ///< throws MoneyOverflow
  friend Money operator*(Money a, std::int64_t times);  ///< throws MoneyOverflow
  Money& operator+=(Money b) { return *this = *this + b; }
  Money& operator-=(Money b) { return *this = *this - b; }

 private:
  explicit constexpr Money(std::int64_t minor) : minor_(minor) {}
  std::int64_t minor_ = 0;
};

/// `amount * basis_points / 10000`, rounded up (towards more money) to the minor unit.
/// `amount` and `basis_points` must be >= 0. Throws MoneyOverflow.
Money percentage_rounded_up(Money amount, std::int64_t basis_points);

/// A currency of ISO 4217: its three-letter code and how many decimal digits its minor unit has (0 to 4).
struct Currency {
  std::string_view code;
  int digits = 2;
};

/// The currency with this code (upper case, exactly as ISO 4217 writes it), or nothing. Known are the codes
/// in use in 2026 that have a minor unit; metals, test codes and "no currency" are not.
std::optional<Currency> find_currency(std::string_view code);

/// The known code nearest to `code` by edit distance (for "did you mean"): letters put in, left out, changed
/// or swapped with a neighbour count one each, upper and lower case are alike; among equals the first of the
/// alphabet. Always answers with a known code.
std::string_view nearest_currency(std::string_view code);

/// Why a text is not an amount. A number with both too many decimals and too large is `too_many_decimals`.
enum class MoneyFault { not_a_number, too_many_decimals, out_of_range };

/// Result of reading an amount: exactly one of the two is set.
struct MoneyReading {
  std::optional<Money> amount;
  std::optional<MoneyFault> fault;
};

/// Reads plain decimal text ("129.95", "-4", "+4", "0.5", and JSON's "1e2") exactly; never through a double.
/// The whole text must be: an optional sign, digits, optionally a point and digits, optionally `e` or `E`
/// with an optional sign and digits. No spaces, no thousands separators; zeros in front do no harm. More
/// decimals than the currency has are a fault unless the surplus digits are zeros. Time and memory grow with
/// the length of the text only, whatever its exponent.
MoneyReading read_money(std::string_view text, const Currency& currency);

/// "129.95", "-4.00", "1200" (JPY): a point, no thousands separator, as many decimals as the currency has.
std::string write_money(Money amount, const Currency& currency);

}  // namespace fettlefund::budgets
