#include "lib/sheets/pages/purse_sheet.hpp"

#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::Money;
using sheets::Minutes;

namespace {

purse::Purse two_builds() {
  test::BuildText bike, van;
  bike.jobs = R"("sit": {"name": "Fit the seat", "want": 9, "hours": 4, "cost": 90},
    "shine": {"name": "Chrome it all", "want": 2, "hours": 1, "cost": 900})";
  van.jobs = R"("sleep": {"name": "Fit the bed", "want": 7, "hours": 8, "cost": 70})";
  build::Build first = bike.read(), second = van.read();
  first.name = "Bike";
  second.name = "Van";
  return {"shed.purse", "The shed", {{"bike", "bike.build", first}, {"van", "van.build", second}}};
}

std::string text_at(const sheets::Sheet& sheet, int row, int column) {
  const sheets::Cell* cell = sheet.find(row, column);
  const auto* text = cell ? std::get_if<std::string>(&cell->value) : nullptr;
  return text ? *text : "";
}

/// The row whose first cell begins so.
int row_that_begins(const sheets::Sheet& sheet, const std::string& begin) {
  for (const auto& [place, cell] : sheet.cells) {
    const auto* text = std::get_if<std::string>(&cell.value);
    if (place.second == 0 && text && text->starts_with(begin)) return place.first;
  }
  return -1;
}

}  // namespace

TEST_CASE("the overview of a purse has what each build spends and does by payday, and nothing to type") {
  const purse::Purse purse = two_builds();
  const purse::Planning planning = purse::plan(purse);
  const auto& outcome = std::get<purse::Outcome>(planning);
  const sheets::Book book = sheets::purse_book(outcome, {"shed-bike.xlsx", "shed-van.xlsx"});
  REQUIRE(book.sheets.size() == 1);
  const sheets::Sheet& sheet = book.sheets[0];
  const std::vector<std::string> names{"Stage",         "Payday",       "Bench date",    "Money in",
                                       "Spent on Bike", "Spent on Van", "Spent",         "Left",
                                       "Keep-back",     "Hours used",   "Hours at hand", "Jobs"};
  for (std::size_t c = 0; c < names.size(); ++c)
    CHECK(text_at(sheet, sheet.header_row, static_cast<int>(c)) == names[c]);
  int row = sheet.header_row + 1;
  CHECK(text_at(sheet, row, 0) == "Opening cash");
  CHECK(std::get<Money>(sheet.find(row, 7)->value) == outcome.build->money.opening);
  std::string jobs;
  for (const purse::StageSum& stage : outcome.stages) {
    ++row;
    CHECK(std::get<std::int64_t>(sheet.find(row, 0)->value) == stage.number);
    CHECK(std::get<Money>(sheet.find(row, 4)->value) == stage.spent_by[0]);
    CHECK(std::get<Money>(sheet.find(row, 5)->value) == stage.spent_by[1]);
    CHECK(std::get<Money>(sheet.find(row, 6)->value) == stage.spent_by[0] + stage.spent_by[1]);
    CHECK(std::get<Money>(sheet.find(row, 7)->value) == stage.cash_after);
    CHECK(std::get<Minutes>(sheet.find(row, 9)->value).count == stage.minutes_used);
    jobs += text_at(sheet, row, 11) + "|";
  }
  CHECK(jobs == "Bike: Fit the seat|Van: Fit the bed|||");
  CHECK(std::get<Money>(sheet.find(row + 1, 4)->value) == Money::of_minor(9000));
  CHECK(std::get<Money>(sheet.find(row + 1, 6)->value) == Money::of_minor(16'000));
  CHECK(sheet.find(row, 7)->formula == "=H8+D9-G9");
  REQUIRE(sheet.chart);
  CHECK(sheet.chart->curves.size() == 2);
  CHECK(row_that_begins(sheet, "Bike: 1 of 2 jobs, 4 h, 90.00 EUR; workbook shed-bike.xlsx") > row);
  CHECK(row_that_begins(sheet, "Bike: Chrome it all") > row);
  for (const auto& one : sheet.cells) {
    CAPTURE(one.first.first);
    const sheets::Look look = one.second.style.look;
    CHECK_FALSE((look == sheets::Look::input || look == sheets::Look::typed || look == sheets::Look::tick));
  }
  CHECK(sheet.entries.empty());
  CHECK_FALSE(sheet.open);
}
