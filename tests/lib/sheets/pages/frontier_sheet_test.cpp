#include "lib/sheets/pages/frontier_sheet.hpp"

#include <cstdio>
#include <filesystem>

#include "tests/lib/support/golden.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using sheets::Decimal;

namespace {

planning::FrontierReport frontier_of(const build::Build& build) {
  return planning::frontier(
      build, {budgets::Money::of_minor(0), budgets::Money::of_minor(6000), budgets::Money::of_minor(12'000)});
}

}  // namespace

TEST_CASE("the frontier sheet has a row an amount, a chart over them and the exact changes") {
  const build::Build build = test::Golden("why").build("skiff.build");
  const planning::FrontierReport frontier = frontier_of(build);
  const sheets::Book book = sheets::frontier_book(frontier);
  REQUIRE(book.sheets.size() == 1);
  const sheets::Sheet& sheet = book.sheets[0];
  const int first = sheet.header_row + 1;
  CHECK(std::get<budgets::Money>(sheet.find(first + 1, 0)->value) == frontier.rows[1].amount);
  CHECK(std::get<Decimal>(sheet.find(first + 1, 1)->value) == Decimal{430, 1});
  CHECK(std::get<std::string>(sheet.find(first, 1)->value) == "impossible");
  REQUIRE(sheet.chart);
  CHECK(sheet.chart->curves.size() == 2);
  CHECK(sheet.chart->categories.first_row == first);
  CHECK(sheet.chart->categories.last_row == first + 2);
  std::size_t changes = 0;
  for (const auto& [place, cell] : sheet.cells) {
    const auto* amount = std::get_if<budgets::Money>(&cell.value);
    if (place.second == 0 && place.first > sheet.chart->row && amount) {
      CHECK(*amount == frontier.changes[changes++].at.amount);
    }
  }
  CHECK(changes == frontier.changes.size());
}

TEST_CASE("the workbook of a frontier is written") {
  const build::Build build = test::Golden("why").build("skiff.build");
  const auto path = std::filesystem::temp_directory_path() / "fettlefund-frontier-test.xlsx";
  sheets::write_frontier_workbook(frontier_of(build), path.string());
  CHECK(std::filesystem::file_size(path) > 2000);
  std::filesystem::remove(path);
}
