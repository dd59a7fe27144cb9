#include "lib/sheets/book/text_guard.hpp"

#include <stdexcept>
#include <string>

#include <doctest/doctest.h>

using namespace fettlefund::sheets;

TEST_CASE("plain and accented text passes a cell unchanged") {
  CHECK(cell_text("Renew the pump", "A1") == "Renew the pump");
  CHECK(cell_text("Z\xC3\xBCndkerze \xE2\x82\xAC \xF0\x9F\x94\xA7\n2 St\xC3\xBC"
                  "ck\t",
                  "A1") ==
        "Z\xC3\xBCndkerze \xE2\x82\xAC \xF0\x9F\x94\xA7\n2 St\xC3\xBC"
        "ck\t");
  CHECK(cell_text("=1+1", "A1") == "=1+1");
}

TEST_CASE("text that looks like an escape of the file format is escaped") {
  CHECK(cell_text("_x0041_", "A1") == "_x005F_x0041_");
  CHECK(cell_text("a_x00e9_b_xZZZZ_", "A1") == "a_x005F_x00e9_b_xZZZZ_");
  CHECK(cell_text("_x004", "A1") == "_x004");
}

TEST_CASE("control characters become spaces") {
  CHECK(cell_text(std::string("a\x01"
                              "b\x0C"
                              "c\r\x7F",
                              7),
                  "A1") == "a b c  ");
}

TEST_CASE("text that is not well-formed UTF-8 is refused with its place") {
  for (const char* bad : {"\xFF", "\xC3", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "a\x80", "\xE2\x82",
                          "\xEF\xBF\xBE", "\xEF\xBF\xBF"}) {
    CAPTURE(bad);
    CHECK_FALSE(valid_text(bad));
    CHECK_THROWS_WITH_AS(cell_text(bad, "Shopping B7"), "not valid UTF-8 text for Shopping B7",
                         std::runtime_error);
  }
}

TEST_CASE("a cell holds 32767 UTF-16 units and no more") {
  CHECK(cell_text(std::string(32767, 'a'), "A1").size() == 32767);
  CHECK_THROWS_WITH(cell_text(std::string(32768, 'a'), "Notes A1"),
                    "text too long for Notes A1: a cell holds 32767 characters");
  std::string pairs;
  for (int i = 0; i < 16384; ++i) pairs += "\xF0\x9F\x94\xA7";  // two units each
  CHECK(utf16_length(pairs) == 32768);
  CHECK_THROWS(cell_text(pairs, "A1"));
}

TEST_CASE("names of ranges are words that no cell reference can be mistaken for") {
  for (const char* good : {"reserve", "shop_paid", "_x", "opening_cash", "ABCD1"})
    CHECK_NOTHROW(check_range_name(good));
  for (const char* bad : {"", "A1", "xfd1048576", "sp ace", "1a", "R1C1", "r", "C", "a-b", "R2"}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(check_range_name(bad), std::logic_error);
  }
}
