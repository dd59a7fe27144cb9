#include "lib/sheets/book/cells.hpp"

#include <stdexcept>

#include "lib/sheets/book/looks.hpp"
#include "lib/sheets/book/render.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using namespace fettlefund::sheets;

TEST_CASE("columns are lettered as spreadsheets letter them") {
  CHECK(column_letters(0) == "A");
  CHECK(column_letters(25) == "Z");
  CHECK(column_letters(26) == "AA");
  CHECK(column_letters(701) == "ZZ");
  CHECK(column_letters(702) == "AAA");
  CHECK(reference(6, 1) == "B7");
  CHECK(reference({1, 2, 9, 2}) == "C2:C10");
  CHECK(absolute("Work order", {1, 2, 9, 2}) == "'Work order'!$C$2:$C$10");
}

TEST_CASE("figures are stored exactly to the currency's decimals") {
  CHECK(stored_number(Money::of_minor(12995), 2) == 129.95);
  CHECK(stored_number(Money::of_minor(-1), 2) == -0.01);
  CHECK(stored_number(Money::of_minor(1500), 0) == 1500);
  CHECK(stored_number(Money::of_minor(1), 3) == 0.001);
  CHECK(stored_number(Minutes{90}, 2) == 1.5);
  CHECK(stored_number(BasisPoints{525}, 2) == 5.25);
  CHECK(stored_number(std::int64_t{7}, 2) == 7);
}

// ISO/IEC 29500-1 (2016), 18.17.4.1, from memory: in the 1900 system 1970-01-01 is day 25569.
TEST_CASE("dates are stored as serial days") {
  CHECK(stored_number(budgets::make_date(1970, 1, 1), 2) == 25569);
  CHECK(stored_number(budgets::make_date(2026, 3, 27), 2) == 46108);
}

TEST_CASE("an amount of sixteen digits is refused") {
  CHECK_NOTHROW(stored_number(Money::of_minor(999'999'999'999'999), 2));
  CHECK_THROWS_WITH_AS(stored_number(Money::of_minor(1'000'000'000'000'000), 2),
                       "an amount has more than 15 digits: too large for a spreadsheet", std::runtime_error);
  CHECK_THROWS(stored_number(Money::of_minor(-1'000'000'000'000'000), 2));
}

TEST_CASE("number formats have the currency's decimals") {
  CHECK(money_format(0) == "#,##0");
  CHECK(money_format(2) == "#,##0.00");
  CHECK(money_format(3) == "#,##0.000");
}

TEST_CASE("a second cell at one place is refused") {
  Sheet sheet("Invented");
  sheet.put(0, 0, std::string("a"));
  CHECK_THROWS_WITH_AS(sheet.put(0, 0, std::string("b")), "two cells at A1 of Invented", std::logic_error);
}

TEST_CASE("a column is as wide as its longest text within its limits") {
  Sheet sheet("Invented");
  sheet.columns = {{6, 12}, {6, 12}, {6, 12}};
  sheet.put(0, 0, std::string("a title that runs on over its neighbours"), Look::title);
  sheet.put(1, 0, std::string("12345678"));
  sheet.put(1, 1, std::string("a long text that wraps in its cell"));
  CHECK(sheet.width(0) == 10);
  CHECK(sheet.width(1) == 12);
  CHECK(sheet.width(2) == 6);
  CHECK(sheet.row_heights().at(1) >= 45);
}

TEST_CASE("the columns behind those that are printed and hidden ones take no room on paper") {
  Sheet sheet("Invented");
  sheet.columns = {{6, 6}, {8, 8, true}, {10, 10}, {20, 20}};
  CHECK(sheet.printed_width() == doctest::Approx(36 + 3 * 5.0 / 7));
  sheet.printed_columns = 3;
  CHECK(sheet.printed_width() == doctest::Approx(16 + 2 * 5.0 / 7));
}

TEST_CASE("names that spreadsheets would refuse are refused before writing") {
  Book book;
  book.sheets = {Sheet("One"), Sheet("ONE")};
  CHECK_THROWS_WITH_AS(render(book, "unused.xlsx"), "two sheets named ONE", std::logic_error);
  book.sheets.pop_back();
  book.names = {{"reserve", "One", {}}, {"Reserve", "One", {}}};
  CHECK_THROWS_WITH_AS(render(book, "unused.xlsx"), "two ranges named Reserve", std::logic_error);
  book.names = {{"A1", "One", {}}};
  CHECK_THROWS_AS(render(book, "unused.xlsx"), std::logic_error);
}
