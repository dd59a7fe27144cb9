#pragma once
#include <optional>
#include <vector>

#include "lib/fitment/chain_length.hpp"
#include "lib/fitment/chain_wear.hpp"

/// Which tooth counts give a wanted ratio, and what each asks of the chain and the adjuster.
namespace fettlefund::fitment {

/// Whole numbers from `from` to `to`, both included, from <= to.
struct ToothRange {
  int from = 0;
  int to = 0;
};

/// What is asked. Throws std::domain_error (from tooth_pairs) when a figure is out of range.
struct ToothSearch {
  ToothRange driving;            ///< within fewest_teeth to most_teeth
  ToothRange driven;             ///< the same
  double ratio_from = 0;         ///< wanted final ratio, both ends included (to one part in 1e9)
  double ratio_to = 0;           ///< >= ratio_from
  double pitch_mm = 0;           ///< least_pitch_mm to most_pitch_mm
  Adjuster adjuster;             ///< what the frame allows
  std::optional<int> has_links;  ///< the chain already there, 1 to most_links; nothing = none
  LinkRounding rounding = LinkRounding::nearest_even;
};

/// One answer.
struct ToothPair {
  Sprockets sprockets;
  double ratio = 0;
  double links_mid_travel = 0;       ///< exact length with the axle in the middle of its travel
  int links = 0;                     ///< that, rounded as asked
  std::optional<AxlePosition> axle;  ///< with a new chain of `links`; nothing when too short to go round
  std::optional<AxlePosition>
      axle_as_it_is;         ///< with the chain already there; nothing when none or too short
  bool keeps_chain = false;  ///< the chain already there puts the axle within the adjuster
};

/// Every pair in the ranges with a ratio in the wanted span, by ratio, then by driving teeth. Pairs whose
/// pitch circles would touch at the adjuster's shortest are left out.
std::vector<ToothPair> tooth_pairs(const ToothSearch& search);

}  // namespace fettlefund::fitment
