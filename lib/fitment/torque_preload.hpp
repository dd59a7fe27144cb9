#pragma once
#include <optional>
#include <span>
#include <string_view>

#include "lib/fitment/torque.hpp"

/// Screens for a torque figure: what tension it stands for and how that compares with the fastener's proof
/// load. They find slips of the pen (N m for lbf in, a figure for another thread). They are no verdict and no
/// source of torque figures: friction alone can halve or double the tension. The maker's figure stands.
namespace fettlefund::fitment {

/// T = K d F. `nut_factor` K 0.05 to 0.5 (0.2 is usual for plain dry steel; from memory), `diameter_mm`
/// nominal, 1 to 100, `tension_n` > 0 to 1e7. Source: T. H. Wentzell, Machine Design, chapter on fasteners.
/// Throws std::domain_error when a figure is out of range.
Torque torque_for_tension(double nut_factor, double diameter_mm, double tension_n);

/// F = T / (K d) in N: the same turned round.
double tension_of_torque_n(Torque torque, double nut_factor, double diameter_mm);

/// Proof load of a metric coarse-thread bolt.
struct ProofLoad {
  std::string_view property_class;  ///< as on the head: "8.8"
  std::string_view thread;          ///< "M10"
  double diameter_mm = 0;
  int newtons = 0;
};

/// ISO 898-1, Mechanical properties of fasteners made of carbon steel and alloy steel: proof loads, coarse
/// thread, for the sizes at hand (8.8: M6 to M12; 10.9: M8 to M12).
std::span<const ProofLoad> proof_loads();

/// The row of the table with this class and thread; nothing when it is not tabled.
std::optional<ProofLoad> find_proof_load(std::string_view property_class, std::string_view thread);

/// Tension by T / (K d) divided by the proof load: a share, for a reader to look at twice when it is near or
/// above 1.
double share_of_proof(Torque torque, double nut_factor, const ProofLoad& bolt);

}  // namespace fettlefund::fitment
