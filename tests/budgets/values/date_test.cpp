#include "budgets/values/date.hpp"

#include <stdexcept>
#include <string>

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::budgets;

namespace {
const int kFirstDay = make_date(1900, 1, 1).days;
const int kDays = make_date(9999, 12, 31).days - kFirstDay + 1;
Date some_day(unsigned seed) {
  return Date{kFirstDay + static_cast<int>(seed % static_cast<unsigned>(kDays))};
}
}  // namespace

TEST_CASE("days are counted from the first of January 1970") {
  CHECK(make_date(1970, 1, 1).days == 0);
  CHECK(make_date(1970, 1, 2).days == 1);
  CHECK(make_date(1969, 12, 31).days == -1);
  CHECK(make_date(2000, 3, 1) - make_date(2000, 2, 28) == 2);
  CHECK(make_date(1900, 3, 1) - make_date(1900, 2, 28) == 1);
  CHECK(make_date(2026, 1, 31) + 1 == make_date(2026, 2, 1));
}

TEST_CASE("a day that is not in the calendar is refused") {
  CHECK_THROWS_AS(make_date(2026, 2, 29), std::invalid_argument);
  CHECK_THROWS_AS(make_date(2026, 4, 31), std::invalid_argument);
  CHECK_THROWS_AS(make_date(2026, 0, 1), std::invalid_argument);
  CHECK_THROWS_AS(make_date(2026, 13, 1), std::invalid_argument);
  CHECK_THROWS_AS(make_date(2026, 1, 0), std::invalid_argument);
  CHECK_THROWS_AS(make_date(2026, 1, 257), std::invalid_argument);  // 1 in eight bits
  CHECK_THROWS_AS(make_date(67562, 1, 1), std::invalid_argument);   // 2026 in sixteen bits
  CHECK(calendar(make_date(2024, 2, 29)).day() == std::chrono::day(29));
}

TEST_CASE("only ten characters that name a day are a date") {
  CHECK(read_date("2026-01-01") == make_date(2026, 1, 1));
  CHECK(read_date("2024-02-29") == make_date(2024, 2, 29));
  CHECK(read_date("1900-01-01") == make_date(1900, 1, 1));
  CHECK(read_date("9999-12-31") == make_date(9999, 12, 31));
  for (const char* text :
       {"",           "2026-1-1",   "2026-01-1",   "2026-02-29",  "1900-02-29",  "2100-02-29",
        "2026-13-01", "2026-00-10", "2026-01-00",  "2026-01-32",  "1899-12-31",  "0000-01-01",
        "2026/01/01", "01-01-2026", " 2026-01-01", "2026-01-01 ", "2026-01-01T", "+026-01-01",
        "2026-+1-01", "2026-01--1", "20260101",    "2026-0a-01",  "10000-01-01"})
    CHECK_MESSAGE(!read_date(text).has_value(), text);
}

TEST_CASE("what is written reads back as the same day") {
  CHECK(write_date(make_date(2026, 7, 4)) == "2026-07-04");
  CHECK(rc::check([](unsigned seed) { return read_date(write_date(some_day(seed))) == some_day(seed); }));
}

TEST_CASE("text order is date order") {
  CHECK(rc::check([](unsigned a, unsigned b) {
    return (some_day(a) < some_day(b)) == (write_date(some_day(a)) < write_date(some_day(b)));
  }));
}

TEST_CASE("reading any bytes as a date does no harm") {
  CHECK(rc::check([](const std::string& text) { return !read_date(text) || text.size() == 10; }));
}

TEST_CASE("exactly two days of any seven are a weekend") {
  CHECK(is_weekend(make_date(2026, 1, 3)));
  CHECK(is_weekend(make_date(2026, 1, 4)));
  CHECK_FALSE(is_weekend(make_date(2026, 1, 2)));
  CHECK_FALSE(is_weekend(make_date(2026, 1, 5)));
  CHECK(rc::check([](unsigned seed) {
    int weekend = 0;
    for (int i = 0; i < 7; ++i) weekend += is_weekend(some_day(seed) + i) ? 1 : 0;
    return weekend == 2;
  }));
}

TEST_CASE("spreadsheet serials skip the day that never was") {
  CHECK(spreadsheet_serial(make_date(1900, 1, 1)) == 1);
  CHECK(spreadsheet_serial(make_date(1900, 2, 28)) == 59);
  CHECK(spreadsheet_serial(make_date(1900, 3, 1)) == 61);
  CHECK(spreadsheet_serial(make_date(1899, 12, 31)) == 0);
  CHECK(spreadsheet_serial(make_date(9999, 12, 31)) == 2958465);
}
