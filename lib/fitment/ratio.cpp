#include "lib/fitment/ratio.hpp"

#include <cmath>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

constexpr double least_ratio = 1e-3;
constexpr double most_ratio = 1e6;
constexpr double least_change_percent = 0.05;

void require_ratio(double ratio) { require_range("ratio", ratio, least_ratio, most_ratio); }

void require_circumference(double metres) { require_range("circumference in m", metres, 0.01, 100); }

/// The overall ratio in each gear.
std::vector<double> overall_ratios(const Gearing& gearing) {
  const double final = final_ratio(gearing.sprockets);
  std::vector<double> ratios;
  for (const double gear : gearing.gears) ratios.push_back(overall_ratio(gearing.primary, gear, final));
  return ratios;
}

/// Turns of a wheel for one metre of road.
double wheel_turns_per_metre(double circumference_m) {
  require_circumference(circumference_m);
  return 1 / circumference_m;
}

/// Turns of the shaft that moves the speedometer for one metre of road.
double turns_per_metre(SpeedometerDrive drive, const Running& running) {
  if (drive == SpeedometerDrive::other_wheel) return wheel_turns_per_metre(running.other_wheel_m);
  const double turns = wheel_turns_per_metre(running.driven_wheel_m);
  return drive == SpeedometerDrive::gearbox ? final_ratio(running.sprockets) * turns : turns;
}

}  // namespace

double final_ratio(const Sprockets& sprockets) {
  require_range("teeth of the driving sprocket", sprockets.driving, fewest_teeth, most_teeth);
  require_range("teeth of the driven sprocket", sprockets.driven, fewest_teeth, most_teeth);
  return static_cast<double>(sprockets.driven) / sprockets.driving;
}

double overall_ratio(double primary, double gear, double final) {
  require_range("primary ratio", primary, least_ratio, 1000);
  require_range("gear ratio", gear, least_ratio, 1000);
  require_range("final ratio", final, least_ratio, 1000);
  return primary * gear * final;
}

double change_percent(double before, double after) {
  require_range("figure before the change", before, 1e-9, 1e9);
  require_range("figure after the change", after, 1e-9, 1e9);
  return 100 * (after - before) / before;
}

double road_speed_kmh(double rpm, double overall, double circumference_m) {
  require_range("engine speed in rpm", rpm, 0, 100'000);
  require_ratio(overall);
  require_circumference(circumference_m);
  return rpm / overall * circumference_m * 60 / 1000;
}

double engine_speed_rpm(double kmh, double overall, double circumference_m) {
  require_range("road speed in km/h", kmh, 0, 2000);
  require_ratio(overall);
  require_circumference(circumference_m);
  return kmh * 1000 / 60 / circumference_m * overall;
}

std::vector<double> road_speeds_kmh(const Gearing& gearing, double rpm) {
  std::vector<double> speeds;
  for (const double ratio : overall_ratios(gearing)) {
    speeds.push_back(road_speed_kmh(rpm, ratio, gearing.circumference_m));
  }
  return speeds;
}

std::vector<double> engine_speeds_rpm(const Gearing& gearing, double kmh) {
  std::vector<double> speeds;
  for (const double ratio : overall_ratios(gearing)) {
    speeds.push_back(engine_speed_rpm(kmh, ratio, gearing.circumference_m));
  }
  return speeds;
}

double speedometer_factor(SpeedometerDrive drive, const Running& before, const Running& after) {
  return turns_per_metre(drive, after) / turns_per_metre(drive, before);
}

std::string_view describe_change(double before, double after) {
  const double change = change_percent(before, after);
  if (std::abs(change) < least_change_percent) return "no change in gearing";
  if (change > 0) return "stronger pull in every gear, more engine speed at a given road speed";
  return "less pull in every gear, less engine speed at a given road speed";
}

std::string write_change(double before, double after) {
  return write_number(before, 3) + " -> " + write_number(after, 3) + " (" +
         write_signed(change_percent(before, after), 1) + " %)";
}

}  // namespace fettlefund::fitment
