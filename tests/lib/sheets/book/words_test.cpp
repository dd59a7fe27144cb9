#include "lib/sheets/book/words.hpp"

#include <cmath>
#include <string>

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund;
using namespace fettlefund::sheets;

TEST_CASE("hours are decimal and rounded to the hundredth") {
  CHECK(write_hours(0) == "0 h");
  CHECK(write_hours(90) == "1.5 h");
  CHECK(write_hours(20) == "0.33 h");
  CHECK(write_hours(40) == "0.67 h");
}

TEST_CASE("wide characters count twice and the longest line counts") {
  CHECK(text_width("abc") == 3);
  CHECK(text_width("\xC3\xBC") == 1);
  CHECK(text_width("\xE6\xA9\x9F") == 2);
  CHECK(text_width("ab\nabcd\na") == 4);
}

TEST_CASE("amounts are as wide as they stand with two decimals") {
  const auto width_of = [](std::int64_t minor) {
    Cell cell;
    cell.value = Money::of_minor(minor);
    return text_width(cell);
  };
  CHECK(width_of(12345) == std::string("123.45").size());
  CHECK(width_of(123456) == std::string("1,234.56").size());
  CHECK(width_of(1234567) == std::string("12,345.67").size());
  CHECK(width_of(123456789) == std::string("1,234,567.89").size());
}

TEST_CASE("text wraps at words, and a word longer than the cell is cut") {
  CHECK(wrapped_lines("", 10) == 1);
  CHECK(wrapped_lines("one", 10) == 1);
  CHECK(wrapped_lines("one two three four five", 12) == 3);
  CHECK(wrapped_lines("one\n\nthree", 12) == 3);
  CHECK(wrapped_lines(std::string(40, 'a'), 11.5) == 4);
}

// The workbook's formula works in doubles; the planner in integers.
TEST_CASE("the allowance formula agrees with the planner up to 9e11 minor units") {
  CHECK(rc::check([] {
    const auto base = *rc::gen::inRange<std::int64_t>(0, 900'000'000'000);
    const auto points = *rc::gen::inRange<std::int64_t>(0, 10001);
    const double formula = std::ceil(static_cast<double>(base) * static_cast<double>(points) / 10000);
    RC_ASSERT(static_cast<std::int64_t>(formula) ==
              budgets::percentage_rounded_up(budgets::Money::of_minor(base), points).minor());
  }));
}
