#include <cmath>
#include <stdexcept>

#include "lib/fitment/chain_wear.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::fitment;

namespace {

const ChainDrive long_run{{15, 45}, 15.875};
const double with_112 = 646.426;  // exact geometry of 112 links

AxlePosition place(double shortest, double longest, double worn = 0) {
  const auto position = axle_position(long_run, 112, {shortest, longest}, worn);
  REQUIRE(position);
  return *position;
}

}  // namespace

TEST_CASE("the axle is placed in thirds of the adjuster") {
  CHECK(place(with_112 - 3, with_112 + 27).place == AxlePlace::front_third);
  CHECK(place(with_112 - 15, with_112 + 15).place == AxlePlace::middle_third);
  CHECK(place(with_112 - 27, with_112 + 3).place == AxlePlace::rear_third);
  CHECK(place(with_112 + 1, with_112 + 31).place == AxlePlace::ahead_of_range);
  CHECK(place(with_112 - 31, with_112 - 1).place == AxlePlace::behind_range);
}

TEST_CASE("the ends of the adjuster belong to it") {
  const double exact = *centre_exact_mm(long_run, 112);
  CHECK(place(exact, exact + 30).place == AxlePlace::front_third);
  CHECK(place(exact - 30, exact).place == AxlePlace::rear_third);
  CHECK(place(exact + 1e-9, exact + 30).place == AxlePlace::front_third);
  CHECK(place(exact - 30, exact - 1e-9).place == AxlePlace::rear_third);
  CHECK(place(exact - 10, exact + 20).place == AxlePlace::middle_third);
  CHECK(place(exact - 20, exact + 10).place == AxlePlace::middle_third);
}

TEST_CASE("where the axle sits is told in words with what is left to wear") {
  CHECK(describe(place(with_112 - 15, with_112 + 15)) ==
        "in the middle third of the adjuster, 15.0 mm (1.7 %) of wear left");
  CHECK(describe(place(with_112 - 3, with_112 + 27))
            .starts_with("in the front third of the adjuster, 27.0 mm"));
  CHECK(
      describe(place(with_112 - 27, with_112 + 3)).starts_with("in the rear third of the adjuster, 3.0 mm"));
  CHECK(describe(place(with_112 + 1, with_112 + 31)) ==
        "1.0 mm ahead of the adjuster's range: the chain is too short");
  CHECK(describe(place(with_112 - 31, with_112 - 1)) ==
        "1.0 mm behind the adjuster's range: the chain is too long");
}

TEST_CASE("a chain that has grown by what was left sits at the end of the adjuster") {
  CHECK(rc::check("wear uses the travel", [] {
    const double ahead = *rc::gen::inRange(1, 300) / 10.0;
    const double behind = *rc::gen::inRange(1, 300) / 10.0;
    const Adjuster adjuster{with_112 - ahead, with_112 + behind};
    const auto fresh = axle_position(long_run, 112, adjuster);
    RC_ASSERT(fresh.has_value());
    const auto worn = axle_position(long_run, 112, adjuster, fresh->percent_left);
    RC_ASSERT(worn.has_value());
    RC_ASSERT(std::abs(worn->travel_left_mm) < 1e-6);
    RC_ASSERT(is_within(worn->place));
    RC_ASSERT(std::abs(fresh->pitches_left - 112 * fresh->percent_left / 100) < 1e-9);
    RC_ASSERT(std::abs(fresh->travel_used_mm + fresh->travel_left_mm - ahead - behind) < 1e-6);
  }));
}

TEST_CASE("wear moves the axle back by about half of what the chain grows") {
  const double grown_mm = 112 * 15.875 * 0.01;
  const double moved = place(600, 700, 1).centre_mm - place(600, 700).centre_mm;
  CHECK(moved == doctest::Approx(grown_mm / 2).epsilon(0.02));
}

TEST_CASE("slack follows the span and the way the chain runs") {
  CHECK(usual_slack_mm(0, ChainRun::usual) == 0);
  CHECK(usual_slack_mm(500, ChainRun::usual) ==
        2 * usual_slack_mm(500, ChainRun::long_vertical_or_shock_loaded));
  CHECK_THROWS_AS(usual_slack_mm(-1, ChainRun::usual), std::domain_error);
}

TEST_CASE("an adjuster the wrong way round or without travel is refused") {
  CHECK_THROWS_AS(axle_position(long_run, 112, {700, 600}), std::domain_error);
  CHECK_THROWS_AS(axle_position(long_run, 112, {650, 650}), std::domain_error);
  CHECK_THROWS_AS(axle_position(long_run, 112, {100, 650}), std::domain_error);
  CHECK_THROWS_AS(axle_position(long_run, 112, {600, 700}, -1), std::domain_error);
  CHECK_THROWS_AS(axle_position(long_run, 0, {600, 700}), std::domain_error);
}

TEST_CASE("a chain too short to go round puts the axle nowhere") {
  CHECK_FALSE(axle_position(long_run, 40, {600, 700}));
}

TEST_CASE("mid-travel is the middle of the adjuster") { CHECK(mid_travel_mm({640, 680}) == 660); }
