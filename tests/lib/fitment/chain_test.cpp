#include "lib/fitment/chain.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "lib/fitment/chain_length.hpp"
#include "lib/fitment/chain_sizes.hpp"
#include "lib/fitment/chain_wear.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::fitment;

namespace {

const ChainDrive usual{{15, 45}, 15.875};

/// A drive of any proportions that closes, and a centre distance for it.
ChainDrive any_drive() {
  const int driving = *rc::gen::inRange(fewest_teeth, 60);
  const int driven = *rc::gen::inRange(fewest_teeth, 120);
  const double pitch = *rc::gen::element(8.0, 9.525, 12.7, 15.875, 19.05, 25.4);
  return {{driving, driven}, pitch};
}

}  // namespace

TEST_CASE("a centre distance turned into links and back is the same centre distance") {
  CHECK(rc::check("centre -> links -> centre", [] {
    const ChainDrive drive = any_drive();
    const double centre = closest_centre_mm(drive) + *rc::gen::inRange(0, 100'000) / 10.0;
    const auto exact = centre_exact_mm(drive, links_exact(drive, centre));
    RC_ASSERT(exact.has_value());
    RC_ASSERT(std::abs(*exact - centre) < 1e-6);
    const auto formula = centre_by_formula_mm(drive, links_by_formula(drive, centre));
    if (formula) RC_ASSERT(std::abs(*formula - centre) < 1e-6);
  }));
}

TEST_CASE("links turned into a centre distance and back are the same links") {
  CHECK(rc::check("links -> centre -> links", [] {
    const ChainDrive drive = any_drive();
    const int links = *rc::gen::inRange(20, 400);
    const auto centre = centre_exact_mm(drive, links);
    if (!centre) {
      RC_ASSERT(links_exact(drive, closest_centre_mm(drive)) > links);
      return;
    }
    RC_ASSERT(std::abs(links_exact(drive, *centre) - links) < 1e-9);
    RC_ASSERT(round_links(links_exact(drive, *centre), LinkRounding::allow_odd) == links);
  }));
}

TEST_CASE("it does not matter which sprocket drives") {
  CHECK(rc::check("swapped sprockets", [] {
    const ChainDrive drive = any_drive();
    const ChainDrive swapped{{drive.sprockets.driven, drive.sprockets.driving}, drive.pitch_mm};
    const double centre = closest_centre_mm(drive) + *rc::gen::inRange(0, 5'000);
    RC_ASSERT(links_exact(drive, centre) == links_exact(swapped, centre));
    RC_ASSERT(links_by_formula(drive, centre) == links_by_formula(swapped, centre));
  }));
}

TEST_CASE("two equal sprockets need two spans and one sprocket of links") {
  const ChainDrive drive{{20, 20}, 12.7};
  CHECK(links_exact(drive, 40 * 12.7) == doctest::Approx(100));
  CHECK(links_by_formula(drive, 40 * 12.7) == doctest::Approx(100));
  CHECK(wrap_degrees(drive, 508) == doctest::Approx(180));
  CHECK(teeth_in_mesh(drive, 508) == doctest::Approx(10));
  CHECK(free_span_mm(drive, 508) == doctest::Approx(508));
}

TEST_CASE("a larger difference of teeth leaves fewer teeth in mesh and a shorter span") {
  const double centre = 650;
  CHECK(wrap_degrees(usual, centre) < 180);
  CHECK(wrap_degrees({{15, 60}, 15.875}, centre) < wrap_degrees(usual, centre));
  CHECK(teeth_in_mesh(usual, centre) == doctest::Approx(15 * wrap_degrees(usual, centre) / 360));
  const double rise = pitch_diameter_mm(15.875, 45) / 2 - pitch_diameter_mm(15.875, 15) / 2;
  CHECK(free_span_mm(usual, centre) == doctest::Approx(std::sqrt(centre * centre - rise * rise)));
}

TEST_CASE("a rise of half the centre distance tilts the chain by 30 degrees") {
  const ChainDrive drive{{10, 60}, 15.875};
  const double rise = (pitch_diameter_mm(15.875, 60) - pitch_diameter_mm(15.875, 10)) / 2;
  CHECK(wrap_degrees(drive, 2 * rise) == doctest::Approx(120));
  CHECK(teeth_in_mesh(drive, 2 * rise) == doctest::Approx(10.0 / 3));
}

TEST_CASE("a chain too short to go round has no centre distance") {
  CHECK_FALSE(centre_exact_mm(usual, 45));
  CHECK_FALSE(centre_by_formula_mm(usual, 45));
  CHECK_FALSE(centre_by_formula_mm(usual, 20));
  CHECK_FALSE(centre_exact_mm(usual, 0));
  const ChainDrive very_unequal{{6, 250}, 15.875};
  CHECK_FALSE(centre_by_formula_mm(very_unequal, 200));
}

TEST_CASE("figures outside their range are refused") {
  CHECK_THROWS_AS(pitch_diameter_mm(15.875, 5), std::domain_error);
  CHECK_THROWS_AS(pitch_diameter_mm(15.875, 251), std::domain_error);
  CHECK_THROWS_AS(pitch_diameter_mm(2.9, 15), std::domain_error);
  CHECK_THROWS_AS(links_exact(usual, closest_centre_mm(usual) - 0.01), std::domain_error);
  CHECK_NOTHROW(links_exact(usual, closest_centre_mm(usual)));
  CHECK_THROWS_AS(links_by_formula(usual, 50'001), std::domain_error);
  CHECK_THROWS_AS(centre_exact_mm(usual, std::numeric_limits<double>::quiet_NaN()), std::domain_error);
  CHECK_THROWS_AS(centre_by_formula_mm(usual, 10'001), std::domain_error);
  CHECK_THROWS_AS(chain_speed_m_per_s(15.875, 15, -1), std::domain_error);
}

TEST_CASE("each way of rounding gives its own whole number of links") {
  struct Row {
    double length;
    int up, nearest, odd;
  };
  for (const Row& row : {Row{111.2, 112, 112, 111}, Row{110.6, 112, 110, 111}, Row{112.0, 112, 112, 112},
                         Row{112.0005, 112, 112, 112}, Row{112.002, 114, 112, 112}, Row{111.0, 112, 112, 111},
                         Row{132.2, 134, 132, 132}}) {
    CAPTURE(row.length);
    CHECK(round_links(row.length, LinkRounding::next_even_up) == row.up);
    CHECK(round_links(row.length, LinkRounding::nearest_even) == row.nearest);
    CHECK(round_links(row.length, LinkRounding::allow_odd) == row.odd);
  }
}

TEST_CASE("rounding keeps its promises for any length") {
  CHECK(rc::check("rounding", [] {
    const double length = *rc::gen::inRange(20'000, 400'000) / 1000.0 + 0.0005;
    const int up = round_links(length, LinkRounding::next_even_up);
    const int nearest = round_links(length, LinkRounding::nearest_even);
    RC_ASSERT(up % 2 == 0 && up >= length - link_grain && up < length + 2);
    RC_ASSERT(nearest % 2 == 0 && std::abs(nearest - length) <= 1);
    RC_ASSERT(std::abs(round_links(length, LinkRounding::allow_odd) - length) <= 0.5);
  }));
}

TEST_CASE("both even neighbours are offered with the centre distance each gives") {
  const auto offers = even_neighbours(usual, 111.3);
  CHECK(offers[0].links == 110);
  CHECK(offers[1].links == 112);
  REQUIRE(offers[0].centre_mm);
  REQUIRE(offers[1].centre_mm);
  CHECK(links_exact(usual, *offers[0].centre_mm) == doctest::Approx(110));
  CHECK(links_exact(usual, *offers[1].centre_mm) == doctest::Approx(112));
  CHECK(even_neighbours(usual, 112.0)[0].links == 112);
  CHECK(even_neighbours(usual, 111.9999)[0].links == 112);
  CHECK_FALSE(even_neighbours(usual, 40)[0].centre_mm);
}

TEST_CASE("only an odd count needs an offset link") {
  CHECK(offer_of(usual, 111).needs_offset_link);
  CHECK_FALSE(offer_of(usual, 112).needs_offset_link);
  const std::string percent = std::to_string(offset_link_percent) + " %";
  CHECK(offset_link_warning().find(percent) != std::string_view::npos);
}

TEST_CASE("a chain size is read with its strength letters and nothing is guessed") {
  const auto plain = read_chain_size(" 520 ");
  REQUIRE(plain.size);
  CHECK(plain.size->number == "520");
  CHECK(plain.size->strength.empty());
  const auto strong = read_chain_size("428 MH");
  REQUIRE(strong.size);
  CHECK(strong.size->number == "428");
  CHECK(strong.size->strength == "MH");
  for (const char* text : {"", "5200", "320", "720", "36", "5", "520XYZ", "520 h", "chain 520", "52 0"}) {
    CAPTURE(text);
    CHECK_FALSE(read_chain_size(text).size);
    CHECK_FALSE(read_chain_size(text).fault.empty());
  }
}

TEST_CASE("a size that is not in the table has a pitch but no inner width") {
  const auto reading = read_chain_size("545");
  REQUIRE(reading.size);
  CHECK(reading.size->pitch_mm == 15.875);
  CHECK_FALSE(reading.size->inner_width);
}

TEST_CASE("a measured length shows the elongation it was made with") {
  CHECK(rc::check("elongation", [] {
    const double worn = *rc::gen::inRange(0, 1000) / 100.0;
    const int pitches = *rc::gen::inRange(1, 200);
    const double measured = measured_length_mm(15.875, pitches, worn);
    RC_ASSERT(std::abs(worn_percent(15.875, pitches, measured) - worn) < 1e-9);
  }));
  CHECK(worn_percent(15.875, 20, 317.0) < 0);
  CHECK_THROWS_AS(worn_percent(15.875, 20, 31.75), std::domain_error);
  CHECK_THROWS_AS(measured_length_mm(15.875, 0, 1), std::domain_error);
}
