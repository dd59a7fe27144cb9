// The whole way from a build file's drive train to its figures, against published examples. The source stands
// beside each check.
#include <cmath>

#include "lib/drive/drive.hpp"
#include "tests/lib/support/drive_build.hpp"

using namespace fettlefund;

namespace {

const planning::DriveFigure& figure(const planning::DriveReport& report, const std::string& id) {
  for (const auto& group : report.groups) {
    for (const auto& one : group.figures) {
      if (one.id == id) return one;
    }
  }
  FAIL("no figure " << id);
  throw 0;
}

planning::DriveReport report_of(const std::string& teeth, const std::string& chain, const std::string& centre,
                                const std::string& more = "") {
  return planning::drive_report(test::drive_build("{" + teeth + R"(, "chain": {"designation": ")" + chain +
                                                  R"(", "links": 100}, "centre": )" + centre + more + "}"));
}

}  // namespace

// A1: R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design (10th edition, 2015), example
// 17-5 (figures from memory): 17 and 34 teeth, 25 pitches. Half-way is 25 pitches of 12.7 mm here.
TEST_CASE("A1 a build with 17 and 34 teeth at 25 pitches is told 75_79 and 76 links") {
  const auto report = report_of(R"("front": {"before": 17}, "rear": {"before": 34})", "40",
                                R"({"now_mm": 317.5, "min_mm": 307.5, "max_mm": 327.5})");
  CHECK(std::abs(*figure(report, "links-formula").after - 75.79) < 0.005);
  CHECK(figure(report, "links").after == 76);
}

// A2: Shigley's Mechanical Engineering Design, solutions manual, problem 17-26: half an inch, 21 and 84
// teeth, 20 inches: 135 links.
TEST_CASE("A2 a build with 21 and 84 teeth at 20 inches is warned of an odd length") {
  const auto report = report_of(R"("front": {"before": 21}, "rear": {"before": 84})", "40",
                                R"({"now_mm": 508, "min_mm": 496, "max_mm": 520})");
  CHECK(report.needed->nearest_count == 135);
  REQUIRE_FALSE(report.warnings.empty());
  CHECK(report.warnings[0].find("is odd (135)") != std::string::npos);
  REQUIRE(report.remarks.size() > 1);
  CHECK((report.remarks[0] + report.remarks[1]).find("134 links") != std::string::npos);
  CHECK((report.remarks[0] + report.remarks[1]).find("136 links") != std::string::npos);
}

// A12: common practice, no source: 4 % of the span; equal sprockets span their centre distance: 800 mm, 32
// mm. A13: common practice, no source: worn out at min(3, 200/N) %; 67 teeth 2.985 %, 80 teeth 2.5 %.
TEST_CASE("A12 A13 a build is told its slack and its wear limits") {
  const auto level = report_of(R"("front": {"before": 20}, "rear": {"before": 20})", "50",
                               R"({"now_mm": 800, "min_mm": 790, "max_mm": 810})");
  CHECK(figure(level, "slack").before == doctest::Approx(32));
  const auto large = report_of(R"("front": {"before": 20}, "rear": {"before": 67, "after": 80})", "50",
                               R"({"now_mm": 800, "min_mm": 790, "max_mm": 810})");
  CHECK(std::abs(*figure(large, "wear-limit").before - 2.985) < 0.0005);
  CHECK(figure(large, "wear-limit").after == doctest::Approx(2.5));
}

// A14: recomputed: size with pitch 15.875 mm, 15 and 45 teeth, 112 links: 646.431 mm.
TEST_CASE("A14 the axle of a build with 15 and 45 teeth and 112 links lies at 646_431 mm") {
  const auto report = report_of(R"("front": {"before": 15}, "rear": {"before": 45})", "520",
                                R"({"now_mm": 645, "min_mm": 636, "max_mm": 653})");
  CHECK(figure(report, "links").after == 112);
  CHECK(std::abs(*figure(report, "axle-distance").after - 646.431) < 0.1);
}

// A16: definition: 7000 rpm, primary 2.0, gear 1.0, final 45/15, circumference 1.9786 m: 138.50 km/h.
// B: 180/55-17 has a diameter of 629.8 mm and a circumference of 1978.6 mm (geometry of the size code).
TEST_CASE("A16 a build at 7000 rpm in a gear of 1 to 1 goes 138_50 km an hour on 180 tyres") {
  const auto report = report_of(R"("front": {"before": 15}, "rear": {"before": 45})", "520",
                                R"({"now_mm": 645, "min_mm": 636, "max_mm": 653})",
                                R"(, "primary": 2, "gears": [1], "tyre": "180/55-17", "engine_rpm": [7000],
                                   "speeds_kmh": [138.5])");
  CHECK(std::abs(*figure(report, "tyre-circumference").after - 1.9786) < 0.00005);
  CHECK(std::abs(*figure(report, "road-speed-7000-1").after - 138.50) < 0.005);
  CHECK(std::abs(*figure(report, "engine-speed-138.5-1").after - 7000) < 0.5);
}
