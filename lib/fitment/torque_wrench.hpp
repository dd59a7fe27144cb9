#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "lib/fitment/torque.hpp"

namespace fettlefund::fitment {

/// The share of its highest value below which a wrench is not relied on when its lowest marked value is not
/// known: the lowest test point of ISO 6789 (2003 edition). Always to be shown as assumed.
inline constexpr double assumed_lowest_share = 0.2;

/// A torque wrench. Its range begins at its lowest marked value (ISO 6789-1, Assembly tools for screws and
/// nuts, Hand torque tools, 2017, clause 5.1.3) and ends at its highest; both are included.
struct WrenchRange {
  std::optional<Torque> lowest;  ///< nothing = only the highest is known
  Torque highest;                ///< >= lowest
};

/// A wrench that covers a need.
struct Covering {
  std::size_t wrench = 0;   ///< index into the wrenches given
  bool is_assumed = false;  ///< the wrench's lowest value is not known, so it is assumed
  friend bool operator==(const Covering&, const Covering&) = default;
};

/// The wrench's lowest value, marked or assumed. Throws std::domain_error when lowest > highest.
Torque lowest_of(const WrenchRange& wrench);

/// Whether the torque is in the wrench's range. One part in 1e9 is forgiven, so that a figure equal to the
/// range's end but written in another unit is covered.
bool covers(const WrenchRange& wrench, Torque need);

/// For each need, in order: the wrenches that cover it, in order. Empty = a gap.
std::vector<std::vector<Covering>> coverage(std::span<const Torque> needs,
                                            std::span<const WrenchRange> wrenches);

/// The needs (indices, increasing) that no wrench covers.
std::vector<std::size_t> uncovered(std::span<const Torque> needs, std::span<const WrenchRange> wrenches);

/// The range one further wrench would need to cover every uncovered need; nothing when there is none.
std::optional<WrenchRange> missing_range(std::span<const Torque> needs,
                                         std::span<const WrenchRange> wrenches);

}  // namespace fettlefund::fitment
