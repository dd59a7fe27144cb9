#include "lib/fitment/chain.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

using std::numbers::pi;

/// The drive seen without its direction: smaller and larger sprocket, radii in mm.
struct Pair {
  double n1, n2, r1, r2, pitch;
};

Pair pair_of(const ChainDrive& drive) {
  const auto [n1, n2] = std::minmax({drive.sprockets.driving, drive.sprockets.driven});
  return {static_cast<double>(n1), static_cast<double>(n2), pitch_diameter_mm(drive.pitch_mm, n1) / 2,
          pitch_diameter_mm(drive.pitch_mm, n2) / 2, drive.pitch_mm};
}

Pair checked(const ChainDrive& drive, double centre_mm) {
  const Pair pair = pair_of(drive);
  require_range("centre distance in mm", centre_mm, pair.r1 + pair.r2, most_centre_mm);
  return pair;
}

double tilt(const Pair& pair, double centre) { return std::asin((pair.r2 - pair.r1) / centre); }

double exact_length(const Pair& pair, double centre) {
  const double a = tilt(pair, centre);
  return 2 * centre / pair.pitch * std::cos(a) + pair.n2 * (0.5 + a / pi) + pair.n1 * (0.5 - a / pi);
}

double squared_difference(const Pair& pair) {
  const double turns = (pair.n2 - pair.n1) / (2 * pi);
  return turns * turns;
}

/// Halves [low, high] round the centre whose exact length is `links` until doubles cannot be halved.
double bisect_centre(const Pair& pair, double links, double low, double high) {
  while (true) {
    const double middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return low;
    (exact_length(pair, middle) < links ? low : high) = middle;
  }
}

}  // namespace

double pitch_diameter_mm(double pitch_mm, int teeth) {
  require_range("chain pitch in mm", pitch_mm, least_pitch_mm, most_pitch_mm);
  require_range("teeth of a sprocket", teeth, fewest_teeth, most_teeth);
  return pitch_mm / std::sin(pi / teeth);
}

double closest_centre_mm(const ChainDrive& drive) {
  const Pair pair = pair_of(drive);
  return pair.r1 + pair.r2;
}

double links_by_formula(const ChainDrive& drive, double centre_mm) {
  const Pair pair = checked(drive, centre_mm);
  const double pitches = centre_mm / pair.pitch;
  return 2 * pitches + (pair.n1 + pair.n2) / 2 + squared_difference(pair) / pitches;
}

double links_exact(const ChainDrive& drive, double centre_mm) {
  return exact_length(checked(drive, centre_mm), centre_mm);
}

std::optional<double> centre_by_formula_mm(const ChainDrive& drive, double links) {
  require_range("links", links, 0, most_links);
  const Pair pair = pair_of(drive);
  const double b = links - (pair.n1 + pair.n2) / 2;
  const double under_root = b * b - 8 * squared_difference(pair);
  if (under_root < 0) return std::nullopt;
  const double centre = pair.pitch / 4 * (b + std::sqrt(under_root));
  if (centre < pair.r1 + pair.r2) return std::nullopt;
  return centre;
}

std::optional<double> centre_exact_mm(const ChainDrive& drive, double links) {
  require_range("links", links, 0, most_links);
  const Pair pair = pair_of(drive);
  const double closest = pair.r1 + pair.r2;
  if (exact_length(pair, closest) > links) return std::nullopt;
  return bisect_centre(pair, links, closest, std::max(closest, links * pair.pitch));
}

double free_span_mm(const ChainDrive& drive, double centre_mm) {
  return centre_mm * std::cos(tilt(checked(drive, centre_mm), centre_mm));
}

double wrap_degrees(const ChainDrive& drive, double centre_mm) {
  return 180 - 2 * tilt(checked(drive, centre_mm), centre_mm) * 180 / pi;
}

double teeth_in_mesh(const ChainDrive& drive, double centre_mm) {
  return std::min(drive.sprockets.driving, drive.sprockets.driven) * wrap_degrees(drive, centre_mm) / 360;
}

double chain_speed_m_per_s(double pitch_mm, int teeth, double rpm) {
  require_range("chain pitch in mm", pitch_mm, least_pitch_mm, most_pitch_mm);
  require_range("teeth of a sprocket", teeth, fewest_teeth, most_teeth);
  require_range("shaft speed in rpm", rpm, 0, 100'000);
  return teeth * pitch_mm * rpm / 60'000;
}

}  // namespace fettlefund::fitment
