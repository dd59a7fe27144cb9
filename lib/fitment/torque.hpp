#pragma once
#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace fettlefund::fitment {

/// Units a torque may be written in.
enum class TorqueUnit { newton_metre, pound_foot, pound_inch, kilogram_metre };

/// Newton metres in one of the unit, exact: 1 lbf ft = 1.3558179483314004 N m, 1 lbf in = a twelfth of that,
/// 1 kgf m = 9.80665 N m. Source: the definitions in units.hpp; NIST Special Publication 811 (2008).
double newton_metres_per(TorqueUnit unit);

/// A tightening torque, > 0. Figures come from the user's file with their source; none is made up here.
class Torque {
 public:
  static constexpr double least_nm = 1e-3;
  static constexpr double most_nm = 100'000;

  /// Throws std::domain_error unless it is least_nm to most_nm, both included.
  static Torque of(double value, TorqueUnit unit);
  double in(TorqueUnit unit) const;
  double newton_metres() const { return newton_metres_; }
  friend auto operator<=>(const Torque&, const Torque&) = default;

 private:
  explicit Torque(double newton_metres) : newton_metres_(newton_metres) {}
  double newton_metres_;
};

/// A torque as read, with the unit it was written in.
struct WrittenTorque {
  Torque torque;
  TorqueUnit unit;
};

/// Result of reading a torque: either `written` is set or `fault` says why not.
struct TorqueReading {
  std::optional<WrittenTorque> written;
  std::string fault;
};

/// Reads "85 Nm", "85 N m", "62.7 lbf ft", "100 lbf in", "8.7 kgf m". Blanks, points, hyphens and the raised
/// dot between the letters of the unit and the case of letters do not matter; lb and kg are taken as lbf and
/// kgf, and ft lbf, in lbf, m kgf as the same. A bare number is refused: a torque without a unit is a guess.
TorqueReading read_torque(std::string_view text);

/// "N m", "lbf ft", "lbf in", "kgf m".
std::string_view unit_name(TorqueUnit unit);

/// "85.0 N m": as write_number with `digits` (0 to 9) after the point, then the unit.
std::string write_torque(Torque torque, TorqueUnit unit, int digits = 1);

/// "85.0 N m (62.7 lbf ft)": both units, one digit after the point; two below 10 N m.
std::string write_torque_both(Torque torque);

}  // namespace fettlefund::fitment
