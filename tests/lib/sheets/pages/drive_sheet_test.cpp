#include "lib/sheets/book/render.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "tests/lib/support/drive_build.hpp"
#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using sheets::Decimal;
using sheets::Shown;

namespace {

const sheets::Sheet* sheet_if_any(const sheets::Book& book, const std::string& name) {
  for (const auto& sheet : book.sheets) {
    if (sheet.name == name) return &sheet;
  }
  return nullptr;
}

/// The row whose first cell is this text.
int row_of(const sheets::Sheet& sheet, const std::string& text) {
  for (const auto& [place, cell] : sheet.cells) {
    const auto* found = std::get_if<std::string>(&cell.value);
    if (place.second == 0 && found != nullptr && *found == text) return place.first;
  }
  FAIL("no row " << text);
  return -1;
}

sheets::Value value(const sheets::Sheet& sheet, int row, int column) {
  const sheets::Cell* cell = sheet.find(row, column);
  REQUIRE(cell != nullptr);
  return cell->value;
}

}  // namespace

TEST_CASE("a workbook of a build with a drive train has a sheet of its figures with their units") {
  auto fixture = test::small_outcome();
  fixture.build->drive = test::drive_build(test::roadster_drive).drive;
  const sheets::Book book = sheets::make_book(fixture.outcome);
  const sheets::Sheet* sheet = sheet_if_any(book, "Drive train");
  REQUIRE(sheet != nullptr);
  const int ratio = row_of(*sheet, "final ratio");
  CHECK(value(*sheet, ratio, 2) == sheets::Value(Decimal{3000, 3}));
  CHECK(value(*sheet, ratio, 3) == sheets::Value(Decimal{3357, 3}));
  CHECK(value(*sheet, ratio, 4) == sheets::Value(Decimal{119, 1}));
  const int links = row_of(*sheet, "links, rounded up to an even number");
  CHECK(value(*sheet, links, 1) == sheets::Value(std::string("links")));
  CHECK(value(*sheet, links, 3) == sheets::Value(Decimal{112, 0}));
  CHECK(value(*sheet, row_of(*sheet, "rolling circumference"), 3) == sheets::Value(Decimal{19786, 4}));
}

TEST_CASE("a workbook of a build without a drive train has no sheet for one") {
  const auto fixture = test::small_outcome();
  CHECK(sheet_if_any(sheets::make_book(fixture.outcome), "Drive train") == nullptr);
}

TEST_CASE("a decimal figure is stored as it is shown") {
  CHECK(sheets::stored_number(Decimal{19786, 4}, 2) == 1.9786);
  CHECK(sheets::stored_number(Decimal{-124, 1}, 2) == -12.4);
  CHECK(sheets::stored_number(Decimal{112, 0}, 2) == 112);
  CHECK(sheets::shown_of(Decimal{112, 0}) == Shown::count);
  CHECK(sheets::shown_of(Decimal{3000, 3}) == Shown::thousandths);
}
