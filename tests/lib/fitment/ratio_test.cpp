#include "lib/fitment/ratio.hpp"

#include <cmath>
#include <stdexcept>

#include "lib/fitment/ratio_search.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::fitment;

namespace {

Sprockets any_sprockets() { return {*rc::gen::inRange(9, 30), *rc::gen::inRange(20, 80)}; }

ToothSearch usual_search() {
  ToothSearch search;
  search.driving = {13, 17};
  search.driven = {40, 48};
  search.ratio_from = 2.5;
  search.ratio_to = 3.0;
  search.pitch_mm = 15.875;
  search.adjuster = {635, 665};
  search.has_links = 112;
  return search;
}

}  // namespace

TEST_CASE("ratio changes one after the other multiply") {
  CHECK(rc::check("changes multiply", [] {
    const double a = final_ratio(any_sprockets());
    const double b = final_ratio(any_sprockets());
    const double c = final_ratio(any_sprockets());
    const double both = (1 + change_percent(a, b) / 100) * (1 + change_percent(b, c) / 100);
    RC_ASSERT(std::abs(both - (1 + change_percent(a, c) / 100)) < 1e-12 * both + 1e-12);
  }));
}

TEST_CASE("road speed and engine speed turn into each other") {
  CHECK(rc::check("there and back", [] {
    const double rpm = *rc::gen::inRange(0, 15'000);
    const double overall = overall_ratio(1.9, 1.1, final_ratio(any_sprockets()));
    const double speed = road_speed_kmh(rpm, overall, 1.98);
    RC_ASSERT(std::abs(engine_speed_rpm(speed, overall, 1.98) - rpm) < 1e-8);
  }));
}

TEST_CASE("every gear gets its own speed") {
  const Gearing gearing{2.0, {2.5, 1.5, 1.0}, {15, 45}, 2.0};
  const auto speeds = road_speeds_kmh(gearing, 6000);
  REQUIRE(speeds.size() == 3);
  CHECK(speeds[2] == doctest::Approx(120.0));
  CHECK(speeds[0] == doctest::Approx(48.0));
  const auto engine = engine_speeds_rpm(gearing, 120);
  REQUIRE(engine.size() == 3);
  CHECK(engine[2] == doctest::Approx(6000));
  CHECK(engine[0] == doctest::Approx(15000));
  CHECK(road_speeds_kmh({2.0, {}, {15, 45}, 2.0}, 6000).empty());
}

TEST_CASE("a speedometer on the gearbox errs with the sprockets and the tyre") {
  const Running before{{18, 43}, 2.0, 1.9};
  const Running sprockets{{17, 44}, 2.0, 1.9};
  const Running tyre{{18, 43}, 2.1, 1.9};
  CHECK(speedometer_factor(SpeedometerDrive::gearbox, before, before) == 1);
  CHECK(speedometer_factor(SpeedometerDrive::gearbox, before, sprockets) ==
        doctest::Approx((44.0 / 17) / (43.0 / 18)));
  CHECK(speedometer_factor(SpeedometerDrive::gearbox, before, tyre) == doctest::Approx(2.0 / 2.1));
}

TEST_CASE("a speedometer on a wheel errs only with the tyre of that wheel") {
  const Running before{{18, 43}, 2.0, 1.9};
  const Running after{{17, 44}, 2.1, 1.8};
  CHECK(speedometer_factor(SpeedometerDrive::driven_wheel, before, after) == doctest::Approx(2.0 / 2.1));
  CHECK(speedometer_factor(SpeedometerDrive::other_wheel, before, after) == doctest::Approx(1.9 / 1.8));
  CHECK(speedometer_factor(SpeedometerDrive::driven_wheel, {{}, 2.0, 0}, {{}, 2.0, 0}) == 1);
}

TEST_CASE("the words for a change go with the speeds it gives") {
  CHECK(rc::check("words and speeds", [] {
    const double before = final_ratio(any_sprockets());
    const double after = final_ratio(any_sprockets());
    const auto words = describe_change(before, after);
    const double faster = road_speed_kmh(5000, after, 2) - road_speed_kmh(5000, before, 2);
    if (words.starts_with("stronger")) RC_ASSERT(faster < 0);
    if (words.starts_with("less pull")) RC_ASSERT(faster > 0);
    if (words.starts_with("no change")) RC_ASSERT(std::abs(change_percent(before, after)) < 0.05);
  }));
}

TEST_CASE("figures no drive can have are refused") {
  CHECK_THROWS_AS(final_ratio({0, 45}), std::domain_error);
  CHECK_THROWS_AS(overall_ratio(0, 1, 3), std::domain_error);
  CHECK_THROWS_AS(change_percent(0, 1), std::domain_error);
  CHECK_THROWS_AS(road_speed_kmh(5000, 0, 2), std::domain_error);
  CHECK_THROWS_AS(road_speed_kmh(5000, 6, 0), std::domain_error);
  CHECK_THROWS_AS(engine_speed_rpm(-1, 6, 2), std::domain_error);
  CHECK_THROWS_AS(speedometer_factor(SpeedometerDrive::gearbox, {{15, 45}, 0, 0}, {{15, 45}, 2, 2}),
                  std::domain_error);
}

TEST_CASE("the search finds every pair in the wanted span and no other") {
  const ToothSearch search = usual_search();
  const auto pairs = tooth_pairs(search);
  std::size_t expected = 0;
  for (int driving = 13; driving <= 17; ++driving) {
    for (int driven = 40; driven <= 48; ++driven) {
      if (10 * driven >= 25 * driving && driven <= 3 * driving) ++expected;
    }
  }
  CHECK(pairs.size() == expected);
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    CHECK(pairs[i].ratio >= 2.5);
    CHECK(pairs[i].ratio <= 3.0);
    if (i > 0) CHECK(pairs[i - 1].ratio <= pairs[i].ratio);
  }
}

TEST_CASE("each pair says whether the present chain stays and how many links a new one has") {
  const ToothSearch search = usual_search();
  bool any_keeps = false, any_changes = false;
  for (const ToothPair& pair : tooth_pairs(search)) {
    const ChainDrive drive{pair.sprockets, search.pitch_mm};
    CHECK(pair.links == round_links(links_exact(drive, 650), LinkRounding::nearest_even));
    REQUIRE(pair.axle);
    CHECK(is_within(pair.axle->place));
    const double centre = *centre_exact_mm(drive, 112);
    CHECK(pair.keeps_chain == (centre >= 635 && centre <= 665));
    any_keeps |= pair.keeps_chain;
    any_changes |= !pair.keeps_chain;
  }
  CHECK(any_keeps);
  CHECK(any_changes);
}

TEST_CASE("the ends of the wanted span belong to it") {
  ToothSearch search = usual_search();
  search.ratio_from = search.ratio_to = 44.0 / 17;
  const auto pairs = tooth_pairs(search);
  REQUIRE(pairs.size() == 1);
  CHECK(pairs[0].sprockets == Sprockets{17, 44});
}

TEST_CASE("without a chain on the machine nothing is said about keeping it") {
  ToothSearch search = usual_search();
  search.has_links.reset();
  for (const ToothPair& pair : tooth_pairs(search)) {
    CHECK_FALSE(pair.axle_as_it_is);
    CHECK_FALSE(pair.keeps_chain);
  }
}

TEST_CASE("sprockets that would touch at the shortest setting are left out") {
  ToothSearch search = usual_search();
  search.adjuster = {160, 190};
  const auto pairs = tooth_pairs(search);
  CHECK(pairs.size() < tooth_pairs(usual_search()).size());
  for (const ToothPair& pair : pairs) CHECK(closest_centre_mm({pair.sprockets, 15.875}) <= 160);
}

TEST_CASE("a search with a range the wrong way round is refused") {
  for (int wrong = 0; wrong < 6; ++wrong) {
    CAPTURE(wrong);
    ToothSearch search = usual_search();
    if (wrong == 0) search.driving = {17, 13};
    if (wrong == 1) search.driven = {40, 300};
    if (wrong == 2) search.ratio_to = 2.4;
    if (wrong == 3) search.adjuster = {665, 635};
    if (wrong == 4) search.pitch_mm = 0;
    if (wrong == 5) search.has_links = 0;
    CHECK_THROWS_AS(tooth_pairs(search), std::domain_error);
  }
}
