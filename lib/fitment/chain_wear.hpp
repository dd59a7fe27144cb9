#pragma once
#include <optional>
#include <string>

#include "lib/fitment/chain.hpp"

/// Slack, wear and the place of the axle in its adjuster. The vehicle's own manual goes before every figure
/// here. Functions throw std::domain_error when an argument is outside the stated range.
namespace fettlefund::fitment {

/// How the chain runs, for the slack it is usually given.
enum class ChainRun { usual, long_vertical_or_shock_loaded };

/// Total up-and-down movement at mid-span: 4 % of the span, 2 % for long, vertical or shock-loaded drives.
/// Common practice, no source. `span_mm`: 0 to most_centre_mm.
double usual_slack_mm(double span_mm, ChainRun run);

/// Elongation at which a chain is worn out: min(3, 200/N) percent, N the teeth of the larger sprocket.
/// Common practice, no source.
double wear_limit_percent(int larger_teeth);

/// Length of `pitches` (1 to most_links) of chain that has grown by `worn_percent` (0 to 10).
double measured_length_mm(double pitch_mm, int pitches, double worn_percent);

/// The elongation in percent that a measured length shows; slightly negative is possible on a new chain.
/// `measured_mm`: 0.9 to 1.2 of the nominal length.
double worn_percent(double pitch_mm, int pitches, double measured_mm);

/// The centre distances the adjuster can set, both included; closest_centre_mm <= shortest < longest.
struct Adjuster {
  double shortest_mm = 0;
  double longest_mm = 0;
};

/// The centre distance with the axle in the middle of its travel: where common practice (no source) puts it
/// before the length of a new chain is counted.
double mid_travel_mm(const Adjuster& adjuster);

/// Where an axle sits. Thirds of the adjuster: front [0, 1/3), middle [1/3, 2/3], rear (2/3, 1].
enum class AxlePlace { ahead_of_range, front_third, middle_third, rear_third, behind_range };

/// Whether the adjuster can hold the axle there.
constexpr bool is_within(AxlePlace place) {
  return place != AxlePlace::ahead_of_range && place != AxlePlace::behind_range;
}

/// Where a chain puts the axle, and what is left for the chain to wear before the adjuster ends.
struct AxlePosition {
  double centre_mm = 0;
  double fraction = 0;  ///< 0 at the adjuster's shortest, 1 at its longest; outside that, out of range
  AxlePlace place = AxlePlace::middle_third;
  double travel_used_mm = 0;  ///< from the adjuster's shortest; negative when ahead of it
  double travel_left_mm = 0;  ///< to the adjuster's longest; negative when behind it
  double pitches_left = 0;    ///< chain growth that uses the travel, in pitches
  double percent_left = 0;    ///< the same in percent of the chain's present length
};

/// The axle's place with a chain of `links` (1 to most_links) that has grown by `worn_percent` (0 to 10).
/// Nothing when the chain is too short to go round at all.
std::optional<AxlePosition> axle_position(const ChainDrive& drive, int links, const Adjuster& adjuster,
                                          double worn_percent = 0);

/// One phrase for the reader: "in the middle third of the adjuster, 15.0 mm (1.7 %) of wear left", or, when
/// out of range, which way and by how much.
std::string describe(const AxlePosition& position);

/// Service facts of the trade; common practice, no source; a manual's figure goes before them.
inline constexpr int rubber_drive_cushion_years = 5;  ///< due as a part after this age
inline constexpr double dry_link_life_km =
    5000 * 1.609344;  ///< a joining link assembled dry: perhaps so long

}  // namespace fettlefund::fitment
