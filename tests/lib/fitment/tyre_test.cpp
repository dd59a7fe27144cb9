#include "lib/fitment/tyre.hpp"

#include <numbers>
#include <stdexcept>

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::fitment;

TEST_CASE("one size may be written in several ways") {
  for (const char* text : {"180/55ZR17", "180/55 R17", "180/55R17", "180/55 ZR 17", "180/55 r 17",
                           " 180/55zr17 ", "180/55ZR17 M/C", "180/55 ZR17 M/C TL", "180/55-17"}) {
    CAPTURE(text);
    const auto reading = read_tyre_size(text);
    REQUIRE_MESSAGE(reading.size, reading.fault);
    CHECK(reading.size->width_mm == 180);
    CHECK(reading.size->aspect_percent == 55);
    CHECK(reading.size->rim_inches == 17);
  }
}

TEST_CASE("the build of the carcass is kept") {
  CHECK(read_tyre_size("120/70-17").size->build == TyreBuild::diagonal);
  CHECK(read_tyre_size("130/80B17").size->build == TyreBuild::bias_belted);
  CHECK(read_tyre_size("180/55ZR17").size->build == TyreBuild::radial);
}

TEST_CASE("a service mark is kept as written") {
  CHECK(read_tyre_size("180/55 ZR17 M/C (73W)").size->service == "73W");
  CHECK(read_tyre_size("120/70-17 58h tl").size->service == "58H");
  CHECK(read_tyre_size("205/70 R15 106S").size->service == "106S");
}

TEST_CASE("a size is written in one way that reads back the same") {
  CHECK(rc::check("write, read", [] {
    TyreSize size{*rc::gen::inRange(40, 456), *rc::gen::inRange(20, 111), *rc::gen::inRange(8, 25),
                  *rc::gen::element(TyreBuild::diagonal, TyreBuild::bias_belted, TyreBuild::radial), ""};
    const auto reading = read_tyre_size(write_tyre_size(size));
    RC_ASSERT(reading.size.has_value());
    RC_ASSERT(*reading.size == size);
  }));
}

TEST_CASE("every other text is refused with a reason and never crashes the reader") {
  CHECK(rc::check("any text", [](const std::string& text) {
    const auto reading = read_tyre_size(text);
    RC_ASSERT(reading.size.has_value() != !reading.fault.empty());
  }));
}

TEST_CASE("the reason for refusing a size names what is wrong with it") {
  struct Row {
    const char *text, *reason;
  };
  for (const Row& row :
       {Row{"3.25-19", "inch size"}, Row{"MT90B16", "letter size"}, Row{"37-622", "bead-seat"},
        Row{"205 R14", "aspect ratio is missing"}, Row{"", "no tyre size"}, Row{"120/70", "not a tyre size"},
        Row{"120/70-", "not a tyre size"}, Row{"120/70X17", "not a tyre size"},
        Row{"1200/70-17", "not a tyre size"}, Row{"900/70-17", "tyre width in mm must be 40 to 455, not 900"},
        Row{"120/170-17", "aspect ratio"}, Row{"120/70-32", "rim code"}, Row{"120/70-17.5", "after the size"},
        Row{"120/70-17 XYZ", "after the size"}, Row{"120/70-17 58W 58W", "after the size"},
        Row{"120/70-17 (58W", "after the size"},
        Row{"120/70-17 M/C TL TL TL TL TL TL TL TL TL TL", "too long"}}) {
    CAPTURE(row.text);
    const auto reading = read_tyre_size(row.text);
    CHECK_FALSE(reading.size);
    CHECK_MESSAGE(reading.fault.find(row.reason) != std::string::npos, reading.fault);
  }
}

TEST_CASE("the rolling factor scales the circumference and is one unless given") {
  const TyreSize size{180, 55, 17, TyreBuild::radial, ""};
  CHECK(tyre_circumference_m(size) == doctest::Approx(std::numbers::pi * tyre_diameter_mm(size) / 1000));
  CHECK(tyre_circumference_m(size, 0.97) == doctest::Approx(0.97 * tyre_circumference_m(size)));
  CHECK_THROWS_AS(tyre_circumference_m(size, 0.5), std::domain_error);
  CHECK_THROWS_AS(tyre_diameter_mm({180, 55, 50, TyreBuild::radial, ""}), std::domain_error);
}

TEST_CASE("the height of a section is rounded to the nearest millimetre before it is doubled") {
  CHECK(un75_diameter_mm({130, 65, 17, TyreBuild::radial, ""}) == 432 + 2 * 85);   // 84.5
  CHECK(un75_diameter_mm({185, 55, 17, TyreBuild::radial, ""}) == 432 + 2 * 102);  // 101.75
}
