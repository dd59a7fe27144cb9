#include "lib/drive/parts.hpp"
#include "lib/fitment/ratio.hpp"
#include "lib/fitment/tyre.hpp"
#include "lib/fitment/units.hpp"

#include <fmt/format.h>

/// What turns with the wheel: the tyre, engine and road speeds, the speedometer.
namespace fettlefund::planning {
namespace {

constexpr double shown_at_kmh = 100;

std::string plain(double value) {
  for (int digits = 0; digits < 3; ++digits) {
    const std::string text = fitment::write_number(value, digits);
    if (std::stod(text) == value) return text;
  }
  return fitment::write_number(value, 3);
}

fitment::Gearing gearing(const build::DriveTrain& drive, const fitment::Sprockets& sprockets,
                         double circumference_m) {
  return {drive.primary, drive.gears, sprockets, circumference_m};
}

void add_engine_speeds(DriveReport& report, const build::DriveTrain& drive, double circumference_m) {
  DriveGroup group{"Engine speed at a road speed", {}};
  for (const double kmh : drive.speeds_kmh) {
    const auto before = fitment::engine_speeds_rpm(gearing(drive, report.before, circumference_m), kmh);
    const auto after = fitment::engine_speeds_rpm(gearing(drive, report.after, circumference_m), kmh);
    for (std::size_t g = 0; g < drive.gears.size(); ++g) {
      group.figures.push_back({fmt::format("engine-speed-{}-{}", plain(kmh), g + 1),
                               fmt::format("at {} km/h, gear {}", plain(kmh), g + 1), "rpm", before[g],
                               after[g], 0, true});
    }
  }
  if (!group.figures.empty()) report.groups.push_back(std::move(group));
}

void add_road_speeds(DriveReport& report, const build::DriveTrain& drive, double circumference_m) {
  DriveGroup group{"Road speed at an engine speed", {}};
  for (const double rpm : drive.engine_rpm) {
    const auto before = fitment::road_speeds_kmh(gearing(drive, report.before, circumference_m), rpm);
    const auto after = fitment::road_speeds_kmh(gearing(drive, report.after, circumference_m), rpm);
    for (std::size_t g = 0; g < drive.gears.size(); ++g) {
      group.figures.push_back({fmt::format("road-speed-{}-{}", plain(rpm), g + 1),
                               fmt::format("at {} rpm, gear {}", plain(rpm), g + 1), "km/h", before[g],
                               after[g], 1, true});
    }
  }
  if (!group.figures.empty()) report.groups.push_back(std::move(group));
}

/// The model has one tyre, the same before and after, so only the sprockets can matter.
void add_speedometer(DriveReport& report, const build::DriveTrain& drive) {
  const bool gearbox = drive.speedometer == "gearbox";
  const double factor = gearbox ? fitment::speedometer_factor(fitment::SpeedometerDrive::gearbox,
                                                              {report.before, 1, 1}, {report.after, 1, 1})
                                : 1;
  report.groups.push_back({"Speedometer",
                           {{"speedometer-shown", "shown at a true 100 km/h", "km/h", shown_at_kmh,
                             shown_at_kmh * factor, 1, true},
                            {"speedometer-true", "true speed at a shown 100 km/h", "km/h", shown_at_kmh,
                             shown_at_kmh / factor, 1, true}}});
  report.notes.push_back(
      gearbox ? "The speedometer is turned by the gearbox: it and the distance counter change as the final "
                "ratio does (definition). It is taken to be right before the change."
              : "The speedometer is turned by a wheel: the sprockets do not change it.");
}

void add_tyre(DriveReport& report, const fitment::TyreSize& tyre, double rolling_factor) {
  DriveGroup group{"Tyre", {}};
  group.figures.push_back({"tyre-diameter",
                           "outer diameter of " + fitment::write_tyre_size(tyre),
                           "mm",
                           {},
                           fitment::tyre_diameter_mm(tyre),
                           1,
                           false});
  if (const auto design = fitment::un75_diameter_mm(tyre)) {
    group.figures.push_back(
        {"tyre-design-diameter", "design diameter, UN Regulation 75", "mm", {}, *design, 0, false});
  }
  group.figures.push_back({"tyre-circumference",
                           "rolling circumference",
                           "m",
                           {},
                           fitment::tyre_circumference_m(tyre, rolling_factor),
                           4,
                           false});
  report.groups.push_back(std::move(group));
  report.notes.push_back(fmt::format(
      "Tyre: D = 25.4 R + 2 W A/100, circumference = pi D x rolling factor {} (geometry of the size code; "
      "neither worn nor loaded). UN Regulation 75: D = d + 2 H, H in whole mm, d from memory.",
      plain(rolling_factor)));
}

}  // namespace

void add_speeds(DriveReport& report, const build::DriveTrain& drive) {
  const auto tyre = fitment::read_tyre_size(drive.tyre).size;
  if (tyre && !drive.gears.empty()) {
    const double circumference_m = fitment::tyre_circumference_m(*tyre, drive.rolling_factor);
    add_engine_speeds(report, drive, circumference_m);
    add_road_speeds(report, drive, circumference_m);
    report.notes.push_back(
        "Road speed in km/h = engine speed in rpm / overall ratio x rolling circumference in m x 60/1000 "
        "(definition; no slip).");
  } else {
    report.notes.push_back("Without the gears and the driven wheel's tyre no speeds can be worked out.");
  }
  add_speedometer(report, drive);
  if (tyre) add_tyre(report, *tyre, drive.rolling_factor);
}

}  // namespace fettlefund::planning
