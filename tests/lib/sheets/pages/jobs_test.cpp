#include <algorithm>

#include "lib/sheets/pages/pages.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

/// The value under a heading in the row of a key of the sheet Jobs.
sheets::Value value_of(const sheets::Sheet& sheet, const std::string& key, const std::string& heading) {
  int row = -1, column = -1;
  for (const auto& [place, cell] : sheet.cells) {
    const auto* text = std::get_if<std::string>(&cell.value);
    if (text && *text == key) row = place.first;
    if (text && *text == heading && place.first == sheet.header_row) column = place.second;
  }
  const sheets::Cell* cell = sheet.find(row, column);
  REQUIRE(cell != nullptr);
  return cell->value;
}

}  // namespace

TEST_CASE("Jobs tells want and what is bought for a job and its hours with what comes off") {
  test::BuildText text;
  text.articles = R"("tyre": {"name": "Tyre", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "paste": {"name": "Paste", "kind": "consumable", "offers": [{"supplier": "shop", "price": 5}]})";
  text.removals = R"("stand": {"name": "Stand", "hours_off": 0.1, "hours_on": 0.1},
    "wheel": {"name": "Rear wheel", "hours_off": 0.5, "hours_on": 0.75, "needs": ["stand"]})";
  text.jobs =
      R"("tread": {"name": "New tyre", "want": 9, "hours": 1, "cost": 12.5, "removals": ["wheel"],
                   "uses": [{"article": "tyre"}, {"article": "paste", "amount": 0.5}]},
         "clean": {"name": "Clean it", "want": 2, "hours": 0.5, "removals": ["stand"],
                   "uses": [{"article": "paste", "amount": 0.5}]})";
  const build::Build build = text.read();
  const planning::Outcome outcome = test::planned(build);
  REQUIRE(test::stage_of(outcome, "tread") == 1);
  REQUIRE(test::stage_of(outcome, "clean") == 1);
  const sheets::Book book = sheets::make_book(outcome);
  const auto& jobs = *std::find_if(book.sheets.begin(), book.sheets.end(),
                                   [](const sheets::Sheet& one) { return one.name == sheets::kJobs; });
  CHECK(value_of(jobs, "job:tread@1", "Want") == sheets::Value(std::int64_t{9}));
  // tyre 60.00 and the paste they share 5.00 and the fee 12.50; 1 h of its own, 1.25 h wheel, 0.2 h stand
  CHECK(value_of(jobs, "job:tread@1", "Goods and fee") == sheets::Value(budgets::Money::of_minor(7750)));
  CHECK(value_of(jobs, "job:tread@1", "Hours with what comes off") == sheets::Value(sheets::Minutes{147}));
  CHECK(value_of(jobs, "job:clean@1", "Goods and fee") == sheets::Value(budgets::Money::of_minor(500)));
  CHECK(value_of(jobs, "job:clean@1", "Hours with what comes off") == sheets::Value(sheets::Minutes{42}));
  CHECK(jobs.frozen_columns == 4);  // the job stays beside what is typed
}
