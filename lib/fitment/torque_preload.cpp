#include "lib/fitment/torque_preload.hpp"

#include <array>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

constexpr std::array table{ProofLoad{"8.8", "M6", 6, 11'600},   ProofLoad{"8.8", "M8", 8, 21'200},
                           ProofLoad{"8.8", "M10", 10, 33'700}, ProofLoad{"8.8", "M12", 12, 48'900},
                           ProofLoad{"10.9", "M8", 8, 30'400},  ProofLoad{"10.9", "M10", 10, 48'100},
                           ProofLoad{"10.9", "M12", 12, 70'000}};

void require_thread(double nut_factor, double diameter_mm) {
  require_range("nut factor", nut_factor, 0.05, 0.5);
  require_range("thread diameter in mm", diameter_mm, 1, 100);
}

}  // namespace

Torque torque_for_tension(double nut_factor, double diameter_mm, double tension_n) {
  require_thread(nut_factor, diameter_mm);
  require_range("tension in N", tension_n, 0, 1e7);
  return Torque::of(nut_factor * diameter_mm * tension_n / 1000, TorqueUnit::newton_metre);
}

double tension_of_torque_n(Torque torque, double nut_factor, double diameter_mm) {
  require_thread(nut_factor, diameter_mm);
  return torque.newton_metres() * 1000 / (nut_factor * diameter_mm);
}

std::span<const ProofLoad> proof_loads() { return table; }

std::optional<ProofLoad> find_proof_load(std::string_view property_class, std::string_view thread) {
  for (const ProofLoad& row : table) {
    if (row.property_class == property_class && row.thread == thread) return row;
  }
  return std::nullopt;
}

double share_of_proof(Torque torque, double nut_factor, const ProofLoad& bolt) {
  return tension_of_torque_n(torque, nut_factor, bolt.diameter_mm) / bolt.newtons;
}

}  // namespace fettlefund::fitment
