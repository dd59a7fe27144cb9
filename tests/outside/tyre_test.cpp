// Tyre sizes against figures worked out apart from the program.
#include "lib/fitment/tyre.hpp"

#include <cmath>

#include <doctest/doctest.h>

using namespace fettlefund::fitment;

namespace {

TyreSize size_of(const char* code) {
  const auto reading = read_tyre_size(code);
  REQUIRE_MESSAGE(reading.size, reading.fault);
  return *reading.size;
}

}  // namespace

// B: D = 25.4 R + 2 W A / 100 by definition of the size code, circumference pi D; recomputed by hand.
TEST_CASE("B diameters and circumferences follow from the size code") {
  struct Row {
    const char* code;
    double diameter_mm, circumference_mm;  // 0 = not worked out
  };
  for (const Row& row :
       {Row{"120/70-17", 599.8, 0}, Row{"180/55-17", 629.8, 1978.6}, Row{"190/55-17", 640.8, 2013.1},
        Row{"130/80-17", 639.8, 0}, Row{"150/70-18", 667.2, 2096.1}, Row{"100/90-18", 637.2, 0},
        Row{"90/90-21", 695.4, 2184.7}}) {
    CAPTURE(row.code);
    CHECK(std::abs(tyre_diameter_mm(size_of(row.code)) - row.diameter_mm) < 1e-9);
    const double circumference = 1000 * tyre_circumference_m(size_of(row.code));
    if (row.circumference_mm > 0) CHECK(std::abs(circumference - row.circumference_mm) < 0.05);
  }
}

// UN Regulation No. 75, Pneumatic tyres for motorcycles and mopeds: d + 2H with H in whole mm. Values from
// memory.
TEST_CASE("the design diameter of UN Regulation 75 is in whole millimetres") {
  CHECK(un75_diameter_mm(size_of("120/70-17")) == 600);
  CHECK(un75_diameter_mm(size_of("180/55ZR17")) == 630);
  CHECK(un75_diameter_mm(size_of("150/80-16")) == 406 + 2 * 120);
  CHECK(un75_diameter_mm(size_of("150/70-18")) == 457 + 2 * 105);
  CHECK(un75_diameter_mm(size_of("110/80-19")) == 483 + 2 * 88);
  CHECK(un75_diameter_mm(size_of("90/90-21")) == 533 + 2 * 81);
  CHECK(un75_diameter_mm(size_of("185/55-17")) == 432 + 2 * 102);  // 101.75 rounded
  CHECK(un75_diameter_mm(size_of("130/60-13")) == std::nullopt);
}

// B: sizes whose diameter the code does not state are refused, never guessed.
TEST_CASE("B sizes of unknown shape are refused") {
  CHECK_FALSE(read_tyre_size("3.25-19").size);
  CHECK_FALSE(read_tyre_size("MT90B16").size);
}
