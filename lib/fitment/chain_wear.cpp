#include "lib/fitment/chain_wear.hpp"

#include <algorithm>
#include <stdexcept>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

/// Positions this close to an end of the adjuster count as at the end.
constexpr double place_grain = 1e-9;

AxlePlace place_of(double fraction) {
  if (fraction < -place_grain) return AxlePlace::ahead_of_range;
  if (fraction > 1 + place_grain) return AxlePlace::behind_range;
  if (fraction < 1.0 / 3 - place_grain) return AxlePlace::front_third;
  return fraction <= 2.0 / 3 + place_grain ? AxlePlace::middle_third : AxlePlace::rear_third;
}

void require_adjuster(const ChainDrive& drive, const Adjuster& adjuster) {
  require_range("adjuster's shortest centre distance in mm", adjuster.shortest_mm, closest_centre_mm(drive),
                most_centre_mm);
  require_range("adjuster's longest centre distance in mm", adjuster.longest_mm, adjuster.shortest_mm,
                most_centre_mm);
  if (adjuster.longest_mm == adjuster.shortest_mm) {
    throw std::domain_error("adjuster's longest centre distance must be more than its shortest");
  }
}

double grown(double length, double worn) { return length * (1 + worn / 100); }

double nominal_length(double pitch_mm, int pitches) {
  require_range("chain pitch in mm", pitch_mm, least_pitch_mm, most_pitch_mm);
  require_range("pitches measured", pitches, 1, most_links);
  return pitch_mm * pitches;
}

std::string wear_left(const AxlePosition& position) {
  return write_number(position.travel_left_mm, 1) + " mm (" + write_number(position.percent_left, 1) +
         " %) of wear left";
}

}  // namespace

double usual_slack_mm(double span_mm, ChainRun run) {
  require_range("span in mm", span_mm, 0, most_centre_mm);
  return span_mm * (run == ChainRun::usual ? 4 : 2) / 100;
}

double wear_limit_percent(int larger_teeth) {
  require_range("teeth of a sprocket", larger_teeth, fewest_teeth, most_teeth);
  return std::min(3.0, 200.0 / larger_teeth);
}

double measured_length_mm(double pitch_mm, int pitches, double worn_percent) {
  require_range("elongation in percent", worn_percent, 0, 10);
  return grown(nominal_length(pitch_mm, pitches), worn_percent);
}

double worn_percent(double pitch_mm, int pitches, double measured_mm) {
  const double nominal = nominal_length(pitch_mm, pitches);
  require_range("measured length in mm", measured_mm, 0.9 * nominal, 1.2 * nominal);
  return 100 * (measured_mm - nominal) / nominal;
}

double mid_travel_mm(const Adjuster& adjuster) { return (adjuster.shortest_mm + adjuster.longest_mm) / 2; }

std::optional<AxlePosition> axle_position(const ChainDrive& drive, int links, const Adjuster& adjuster,
                                          double worn_percent) {
  require_adjuster(drive, adjuster);
  require_range("links", links, 1, most_links);
  require_range("elongation in percent", worn_percent, 0, 10);
  const double length = grown(links, worn_percent);
  const auto centre = centre_exact_mm(drive, std::min(length, most_links));
  if (!centre) return std::nullopt;
  AxlePosition position;
  position.centre_mm = *centre;
  position.travel_used_mm = *centre - adjuster.shortest_mm;
  position.fraction = position.travel_used_mm / (adjuster.longest_mm - adjuster.shortest_mm);
  position.place = place_of(position.fraction);
  position.travel_left_mm = adjuster.longest_mm - *centre;
  position.pitches_left = links_exact(drive, adjuster.longest_mm) - length;
  position.percent_left = 100 * position.pitches_left / length;
  return position;
}

std::string describe(const AxlePosition& position) {
  switch (position.place) {
    case AxlePlace::ahead_of_range:
      return write_number(-position.travel_used_mm, 1) +
             " mm ahead of the adjuster's range: the chain is too short";
    case AxlePlace::behind_range:
      return write_number(-position.travel_left_mm, 1) +
             " mm behind the adjuster's range: the chain is too long";
    case AxlePlace::front_third:
      return "in the front third of the adjuster, " + wear_left(position);
    case AxlePlace::middle_third:
      return "in the middle third of the adjuster, " + wear_left(position);
    case AxlePlace::rear_third:
      break;
  }
  return "in the rear third of the adjuster, " + wear_left(position);
}

}  // namespace fettlefund::fitment
