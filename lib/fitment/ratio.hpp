#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "lib/fitment/chain.hpp"

/// Ratios and what they do to engine speed, road speed and a speedometer. A ratio is turns in for one turn
/// out, so a larger one is a lower gear. Functions throw std::domain_error when an argument is out of range.
namespace fettlefund::fitment {

/// Driven teeth / driving teeth. Definition.
double final_ratio(const Sprockets& sprockets);

/// primary x gear x final: engine turns for one turn of the wheel. Each 0.001 to 1000.
double overall_ratio(double primary, double gear, double final);

/// 100 (after - before) / before. Both 1e-9 to 1e9.
double change_percent(double before, double after);

/// Everything between engine and road. `circumference_m` of the driven wheel: 0.01 to 100.
struct Gearing {
  double primary = 1;         ///< engine to gearbox, 0.001 to 1000
  std::vector<double> gears;  ///< first gear first, each 0.001 to 1000
  Sprockets sprockets;
  double circumference_m = 0;
};

/// Road speed in km/h: rpm / ratio x circumference x 60 / 1000. `rpm`: 0 to 100000.
double road_speed_kmh(double rpm, double overall, double circumference_m);

/// Engine speed in rpm for a road speed: the same turned round. `kmh`: 0 to 2000.
double engine_speed_rpm(double kmh, double overall, double circumference_m);

/// Road speed in each gear at one engine speed; as many as `gearing.gears`.
std::vector<double> road_speeds_kmh(const Gearing& gearing, double rpm);

/// Engine speed in each gear at one road speed; as many as `gearing.gears`.
std::vector<double> engine_speeds_rpm(const Gearing& gearing, double kmh);

/// What turns the speedometer.
enum class SpeedometerDrive {
  gearbox,       ///< before the final drive: sprockets and the driven wheel's tyre both matter
  driven_wheel,  ///< only that wheel's tyre matters
  other_wheel,   ///< only the other wheel's tyre matters
};

/// Sprockets and both tyres at one time; circumferences 0.01 to 100 m. What the speedometer's drive does not
/// depend on may be left out.
struct Running {
  Sprockets sprockets;
  double driven_wheel_m = 0;
  double other_wheel_m = 0;
};

/// Shown speed divided by true speed after a change, if the two were equal before it. The distance counter
/// errs by the same factor. Above 1 it reads high. Definition: shaft turns for a given road, after / before.
double speedometer_factor(SpeedometerDrive drive, const Running& before, const Running& after);

/// What a change of overall ratio feels like (common practice, no source): a larger ratio pulls harder in
/// each gear and turns the engine faster at a given road speed. Changes under 0.05 % count as none.
std::string_view describe_change(double before, double after);

/// "2.389 -> 2.588 (+8.3 %)": ratios to three digits after the point, the change to one.
std::string write_change(double before, double after);

}  // namespace fettlefund::fitment
