#include "lib/form/reading/values.hpp"

#include <doctest/doctest.h>

// What a cell of a form comes to in the build's text.

using namespace fettlefund;
using sheets::StoredCell;

namespace {

StoredCell cell_of(const std::string& words) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::text;
  cell.text = words;
  return cell;
}

StoredCell cell_of(double number) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::number;
  cell.number = number;
  return cell;
}

StoredCell computed(double number) {
  StoredCell cell = cell_of(number);
  cell.computed = true;
  return cell;
}

/// As it stands in the build's text; what was expected, in brackets, where it is refused.
std::string token_of(form::Type type, const StoredCell& cell, const budgets::Currency& currency = {"EUR", 2},
                     bool from_1904 = false) {
  form::Column column;
  column.heading = "Figure";
  column.type = type;
  const form::Directory none;
  const form::Value value = form::read_value({currency, from_1904, none}, column, cell, {});
  return value.piece ? value.piece->token : "<" + value.expected + ">";
}

}  // namespace

TEST_CASE("a formula that comes to money is rounded to the decimals of the currency") {
  CHECK(token_of(form::Type::money, computed(100.0 / 3)) == "33.33");
  CHECK(token_of(form::Type::money, computed(100.0 / 3), {"KWD", 3}) == "33.333");
  CHECK(token_of(form::Type::money, computed(200.0 / 3), {"JPY", 0}) == "67");
}

TEST_CASE("a formula that comes to an amount is rounded to three decimals and one of hours to two") {
  CHECK(token_of(form::Type::amount, computed(1.0 / 3)) == "0.333");
  CHECK(token_of(form::Type::hours, computed(1.0 / 3)) == "0.33");
  CHECK(token_of(form::Type::whole, computed(2.0 / 3)) == "1");
}

TEST_CASE("of a typed number no decimal is lost") {
  CHECK(token_of(form::Type::money, cell_of(14.125), {"KWD", 3}) == "14.125");
  CHECK(token_of(form::Type::money, cell_of(14.125)) == "14.125");  // the reader of builds refuses it
  CHECK(token_of(form::Type::hours, cell_of(1.255)) == "1.255");
  CHECK(token_of(form::Type::money, cell_of("1.234")) ==
        "<an amount of EUR like 129.95; this could be two numbers>");
}

// Serial days of ISO/IEC 29500-1 (2016), 18.17.4.1: 1904-01-01 is 1462 of the usual system and 0 of the
// other.
TEST_CASE("a day is read by the system of days that the workbook has") {
  CHECK(token_of(form::Type::day, cell_of(46054.0)) == "\"2026-02-01\"");
  CHECK(token_of(form::Type::day, cell_of(46054.0 - 1462), {"EUR", 2}, true) == "\"2026-02-01\"");
}
