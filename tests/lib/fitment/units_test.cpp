#include "lib/fitment/units.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::fitment;

TEST_CASE("numbers are written with the digits asked for and never as minus zero") {
  CHECK(write_number(646.4311, 2) == "646.43");
  CHECK(write_number(112, 0) == "112");
  CHECK(write_number(-0.04, 1) == "0.0");
  CHECK(write_number(-0.06, 1) == "-0.1");
  CHECK(write_number(0.5, 0) == "0");
  CHECK(write_number(1e9, 0) == "1000000000");
}

TEST_CASE("a change is written with its sign unless it is nothing") {
  CHECK(write_signed(8.345, 1) == "+8.3");
  CHECK(write_signed(-1, 1) == "-1.0");
  CHECK(write_signed(0.04, 1) == "0.0");
  CHECK(write_signed(-0.04, 1) == "0.0");
}

TEST_CASE("what is no number is never written") {
  CHECK_THROWS_AS(write_number(std::numeric_limits<double>::quiet_NaN(), 1), std::domain_error);
  CHECK_THROWS_AS(write_number(std::numeric_limits<double>::infinity(), 1), std::domain_error);
  CHECK_THROWS_AS(write_number(1, 10), std::domain_error);
  CHECK_THROWS_AS(write_number(1, -1), std::domain_error);
}

TEST_CASE("a figure out of range is refused with its name and the range") {
  CHECK_THROWS_WITH_AS(require_range("teeth", 3, 6, 250), "teeth must be 6 to 250, not 3", std::domain_error);
  CHECK_THROWS_AS(require_range("teeth", std::nan(""), 6, 250), std::domain_error);
  CHECK_NOTHROW(require_range("teeth", 6, 6, 250));
  CHECK_NOTHROW(require_range("teeth", 250, 6, 250));
}

TEST_CASE("a quantity is a plain number and a unit") {
  for (const char* text : {"85 Nm", "85Nm", "  85\tNm ", "85.0 Nm"}) {
    CAPTURE(text);
    const auto reading = read_quantity(text);
    REQUIRE(reading.quantity);
    CHECK(reading.quantity->value == 85);
    CHECK(reading.quantity->unit == "Nm");
  }
  REQUIRE(read_quantity("12").quantity);
  CHECK(read_quantity("12").quantity->unit.empty());
  CHECK(read_quantity("62.5 lbf ft").quantity->unit == "lbf ft");
}

TEST_CASE("what is not a plain number and a unit is refused with a reason") {
  const std::string endless(65, '1');
  for (const std::string text :
       {"", "  ", "Nm", "-5 Nm", "+5 Nm", ".5 Nm", "5. Nm", "1,200 Nm", "8,5 Nm", "85, Nm", "85 90 Nm",
        "nan Nm", "inf Nm", "1e3 Nm", "0x10 Nm", endless.c_str()}) {
    CAPTURE(text);
    const auto reading = read_quantity(text);
    CHECK_FALSE(reading.quantity);
    CHECK_FALSE(reading.fault.empty());
  }
}

TEST_CASE("a written number reads back to the digits written") {
  CHECK(rc::check("write, read, write", [](std::uint32_t hundredths) {
    const std::string text = write_number(hundredths / 100.0, 2);
    const auto reading = read_quantity(text);
    RC_ASSERT(reading.quantity.has_value());
    RC_ASSERT(write_number(reading.quantity->value, 2) == text);
  }));
}
