#include "lib/fitment/torque.hpp"

#include <array>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

struct Spelling {
  std::string_view letters;
  TorqueUnit unit;
};

constexpr std::array spellings{
    Spelling{"nm", TorqueUnit::newton_metre},    Spelling{"lbfft", TorqueUnit::pound_foot},
    Spelling{"lbft", TorqueUnit::pound_foot},    Spelling{"ftlbf", TorqueUnit::pound_foot},
    Spelling{"ftlb", TorqueUnit::pound_foot},    Spelling{"lbfin", TorqueUnit::pound_inch},
    Spelling{"lbin", TorqueUnit::pound_inch},    Spelling{"inlbf", TorqueUnit::pound_inch},
    Spelling{"inlb", TorqueUnit::pound_inch},    Spelling{"kgfm", TorqueUnit::kilogram_metre},
    Spelling{"kgm", TorqueUnit::kilogram_metre}, Spelling{"mkgf", TorqueUnit::kilogram_metre}};

constexpr std::string_view raised_dot = "\xC2\xB7";

/// Lower case without what may stand between the letters of a unit.
std::string letters_of(std::string_view unit) {
  std::string letters;
  for (std::size_t i = 0; i < unit.size(); ++i) {
    if (unit.substr(i).starts_with(raised_dot)) {
      ++i;
    } else if (const char c = unit[i]; c >= 'A' && c <= 'Z') {
      letters += static_cast<char>(c - 'A' + 'a');
    } else if (c != ' ' && c != '.' && c != '-') {
      letters += c;
    }
  }
  return letters;
}

std::optional<TorqueUnit> find_unit(std::string_view unit) {
  const std::string letters = letters_of(unit);
  for (const Spelling& spelling : spellings) {
    if (spelling.letters == letters) return spelling.unit;
  }
  return std::nullopt;
}

TorqueReading no_torque(std::string why) { return {std::nullopt, std::move(why)}; }

}  // namespace

double newton_metres_per(TorqueUnit unit) {
  switch (unit) {
    case TorqueUnit::newton_metre:
      return 1;
    case TorqueUnit::pound_foot:
      return 1.3558179483314004;
    case TorqueUnit::pound_inch:
      return 1.3558179483314004 / 12;
    case TorqueUnit::kilogram_metre:
      break;
  }
  return newtons_per_kgf;
}

Torque Torque::of(double value, TorqueUnit unit) {
  const double newton_metres = value * newton_metres_per(unit);
  require_range("torque in N m", newton_metres, least_nm, most_nm);
  return Torque(newton_metres);
}

double Torque::in(TorqueUnit unit) const { return newton_metres_ / newton_metres_per(unit); }

TorqueReading read_torque(std::string_view text) {
  const QuantityReading reading = read_quantity(text);
  if (!reading.quantity) return no_torque(reading.fault);
  const auto unit = find_unit(reading.quantity->unit);
  if (!unit) return no_torque("write the unit of a torque: N m, lbf ft, lbf in or kgf m");
  const double newton_metres = reading.quantity->value * newton_metres_per(*unit);
  if (newton_metres < Torque::least_nm || newton_metres > Torque::most_nm) {
    return no_torque("a torque must be 0.001 to 100000 N m");
  }
  return {WrittenTorque{Torque::of(reading.quantity->value, *unit), *unit}, ""};
}

std::string_view unit_name(TorqueUnit unit) {
  constexpr std::array<std::string_view, 4> names{"N m", "lbf ft", "lbf in", "kgf m"};
  return names[static_cast<std::size_t>(unit)];
}

std::string write_torque(Torque torque, TorqueUnit unit, int digits) {
  return write_number(torque.in(unit), digits) + " " + std::string(unit_name(unit));
}

std::string write_torque_both(Torque torque) {
  const int digits = torque.newton_metres() < 10 ? 2 : 1;
  return write_torque(torque, TorqueUnit::newton_metre, digits) + " (" +
         write_torque(torque, TorqueUnit::pound_foot, digits) + ")";
}

}  // namespace fettlefund::fitment
