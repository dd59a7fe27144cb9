#include "lib/sheets/read_back/cell_reading.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using sheets::StoredCell;

namespace {

const budgets::Currency kEuro{"EUR", 2};

StoredCell number(double value, bool computed = false) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::number;
  cell.number = value;
  cell.computed = computed;
  return cell;
}

StoredCell text(const std::string& value) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::text;
  cell.text = value;
  return cell;
}

/// Cents, or -1 where it is refused, or -2 where nothing is typed.
std::int64_t cents(const StoredCell& cell) {
  const auto reading = sheets::read_amount(&cell, kEuro);
  return !reading.good() ? -1 : reading.value ? reading.value->minor() : -2;
}

}  // namespace

TEST_CASE("an amount is a number or a text that can be one amount only") {
  CHECK(cents(number(13.95)) == 1395);
  CHECK(cents(number(131.95000000000002)) == 13195);
  CHECK(cents(number(0)) == 0);
  CHECK(cents(text("12.50")) == 1250);
  CHECK(cents(text("12,5")) == 1250);
  CHECK(cents(text(" 12,50 EUR ")) == 1250);
  CHECK(cents(text("EUR 12")) == 1200);
  CHECK(cents(text("1.234,50")) == 123450);
  CHECK(cents(text("1,234.50")) == 123450);
  CHECK(cents(text("1\xC2\xA0"
                   "234,50")) == 123450);
  CHECK(cents(text(",50")) == 50);
  CHECK(cents(text("   ")) == -2);
  CHECK(!sheets::read_amount(nullptr, kEuro).value);
  CHECK(sheets::read_amount(nullptr, kEuro).good());
}

TEST_CASE("what could be two amounts, or none, is refused") {
  for (const char* one : {"1.234", "1,234", "1.234.567", "12.345", "12,5,0", "1,23.4", "about fifty", "12-",
                          "--3", "1e3", "5.", "12,50 USD", "1.2.3,4", "=5", "\xC2\xBD"}) {
    CAPTURE(one);
    CHECK(cents(text(one)) == -1);
  }
  CHECK(cents(number(12.345)) == -1);
  CHECK(cents(number(1e300)) == -1);
  StoredCell yes = number(1);
  yes.kind = StoredCell::Kind::boolean;
  CHECK(cents(yes) == -1);
  StoredCell fault = text("#DIV/0!");
  fault.kind = StoredCell::Kind::error;
  CHECK(cents(fault) == -1);
  StoredCell unsaved;
  unsaved.computed = true;
  CHECK(sheets::read_amount(&unsaved, kEuro).expected.find("is not stored") != std::string::npos);
}

TEST_CASE("a formula's amount is rounded as the sheets round it") {
  CHECK(cents(number(100.0 / 3, true)) == 3333);
  CHECK(cents(number(0.125, true)) == 13);
  CHECK(cents(number(1.005, true)) == 101);  // the nearest double is a little less
  CHECK(cents(number(-0.125, true)) == -13);
}

TEST_CASE("currencies have the decimals they have") {
  const StoredCell whole = number(1200), broken = number(12.5), fine = number(1.234),
                   text_fine = text("1234,567");
  CHECK(sheets::read_amount(&whole, {"JPY", 0}).value->minor() == 1200);
  CHECK(!sheets::read_amount(&broken, {"JPY", 0}).good());
  CHECK(sheets::read_amount(&fine, {"KWD", 3}).value->minor() == 1234);
  CHECK(sheets::read_amount(&text_fine, {"KWD", 3}).value->minor() == 1234567);
  // Three digits behind the mark may be thousands, but not behind a single nought.
  const StoredCell either = text("1,234"), small = text("0.234");
  CHECK(!sheets::read_amount(&either, {"KWD", 3}).good());
  CHECK(sheets::read_amount(&small, {"KWD", 3}).value->minor() == 234);
}

TEST_CASE("hours become minutes, and a clock time is not taken for hours") {
  const auto minutes = [](const StoredCell& cell) {
    const auto reading = sheets::read_hours(&cell);
    return reading.good() ? reading.value.value_or(-2) : -1;
  };
  CHECK(minutes(number(1.5)) == 90);
  CHECK(minutes(number(0.33)) == 20);
  CHECK(minutes(text("2,25")) == 135);
  CHECK(minutes(text("2 h")) == 120);
  CHECK(minutes(number(1.0 / 3, true)) == 20);
  CHECK(minutes(number(0.0625)) == -1);  // 1:30 as a part of a day
  CHECK(minutes(number(-1)) == -1);
  CHECK(minutes(number(10001)) == -1);
  CHECK(minutes(text("1:30")) == -1);
}

// Serial days of ISO/IEC 29500-1 (2016), 18.17.4.1: 1900-03-01 is 61, 1904-01-01 is 1462 there and 0 in the
// other system.
TEST_CASE("days are serial numbers of either system or plain texts") {
  const auto day = [](const StoredCell& cell, bool from_1904 = false) {
    const auto reading = sheets::read_day(&cell, from_1904);
    return !reading.good() ? "refused" : reading.value ? budgets::write_date(*reading.value) : "none";
  };
  CHECK(day(number(46054)) == "2026-02-01");
  CHECK(day(number(46054 - 1462), true) == "2026-02-01");
  CHECK(day(number(0), true) == "1904-01-01");
  CHECK(day(number(61)) == "1900-03-01");
  CHECK(day(number(60)) == "refused");
  CHECK(day(number(46054.5)) == "refused");
  CHECK(day(number(1e12)) == "refused");
  CHECK(day(text("2026-02-01 ")) == "2026-02-01");
  CHECK(day(text("2026-02-30")) == "refused");
  CHECK(day(text("1/2/26")) == "refused");
  StoredCell iso = text("2026-02-01T00:00:00");
  iso.kind = StoredCell::Kind::iso_date;
  CHECK(day(iso) == "2026-02-01");
}

TEST_CASE("a tick is an x and nothing else") {
  const auto tick = [](const StoredCell& cell) {
    const auto reading = sheets::read_tick(&cell);
    return reading.good() ? static_cast<int>(*reading.value) : -1;
  };
  CHECK(tick(text("x")) == 1);
  CHECK(tick(text(" X ")) == 1);
  CHECK(tick(text("")) == 0);
  CHECK(tick(text("maybe")) == -1);
  CHECK(tick(text("xx")) == -1);
  CHECK(tick(number(1)) == -1);
}

TEST_CASE("whole numbers are whole and within their limits") {
  const auto whole = [](const StoredCell& cell) {
    const auto reading = sheets::read_whole(&cell, 0, 99);
    return reading.good() ? reading.value.value_or(-2) : -1;
  };
  CHECK(whole(number(3)) == 3);
  CHECK(whole(text("3")) == 3);
  CHECK(whole(number(3.5)) == -1);
  CHECK(whole(number(-1)) == -1);
  CHECK(whole(number(100)) == -1);
}
