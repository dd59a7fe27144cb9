#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace fettlefund::fitment {

// Exact by definition: the international yard and pound agreement of 1959 (1 yd = 0.9144 m,
// 1 lb = 0.45359237 kg) and standard gravity 9.80665 m/s2, as tabled in NIST Special Publication 811
// (Guide for the Use of the International System of Units, 2008).
inline constexpr double mm_per_inch = 25.4;
inline constexpr double km_per_mile = 1.609344;
inline constexpr double newtons_per_kgf = 9.80665;
inline constexpr double newtons_per_lbf = 4.4482216152605;

constexpr double kmh_from_mph(double mph) { return mph * km_per_mile; }
constexpr double mph_from_kmh(double kmh) { return kmh / km_per_mile; }

/// `value` in plain decimals with exactly `digits` (0 to 9) after the point: "646.43", "-0.5", "112".
/// The decimal nearest to the stored value; a tie goes to the even digit; never "-0"; no locale.
/// Throws std::domain_error when `value` is not finite or `digits` is out of range.
std::string write_number(double value, int digits);

/// As write_number, with a sign in front unless it is zero to the printed digits: "+8.3", "-1.0", "0.0".
std::string write_signed(double value, int digits);

/// Throws std::domain_error "<what> must be <low> to <high>, not <value>" unless low <= value <= high.
/// Values that are not numbers are always refused.
void require_range(std::string_view what, double value, double low, double high);

/// A number and the unit written after it. The unit is as typed, without surrounding blanks and without
/// digits; may be empty.
struct Quantity {
  double value = 0;
  std::string unit;
};

/// Result of reading a quantity: either `quantity` is set or `fault` says why not.
struct QuantityReading {
  std::optional<Quantity> quantity;
  std::string fault;
};

/// Reads "85 Nm", "62.5 lbf ft", "12": plain decimals with a point, no sign, exponent or thousands mark,
/// at most 64 characters in all.
QuantityReading read_quantity(std::string_view text);

/// The text without blanks (space, tab) at its ends.
std::string_view trimmed(std::string_view text);

}  // namespace fettlefund::fitment
