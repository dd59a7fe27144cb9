#include "lib/sheets/read_back/read_workbook.hpp"

#include "tests/lib/support/outcome_fixture.hpp"
#include "tests/lib/support/typed_workbook.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using sheets::Money;
using sheets::Readback;
using sheets::Said;
using sheets::SaidBought;
using sheets::StoredBook;
using sheets::StoredCell;
using sheets::StoredSheet;
using test::told;
using test::TypedWorkbook;

namespace {

Money minor(std::int64_t amount) { return Money::of_minor(amount); }

std::string words(const Said& said) {
  if (const auto* one = std::get_if<SaidBought>(&said.what)) {
    std::string text = "bought " + one->key + " " + std::to_string(one->packs) + " for " +
                       std::to_string(one->paid.minor()) + (one->paid_is_typed ? "" : " as planned");
    if (one->on) text += " on " + budgets::write_date(*one->on);
    if (one->arrives_is_typed) text += " arrives " + budgets::write_date(*one->arrives);
    return text;
  }
  if (const auto* one = std::get_if<sheets::SaidDone>(&said.what)) {
    return "done " + one->job + (one->minutes ? " in " + std::to_string(*one->minutes) : "") +
           (one->on ? " on " + budgets::write_date(*one->on) : "");
  }
  if (const auto* one = std::get_if<sheets::SaidCounted>(&said.what)) {
    return "counted " + std::to_string(one->cash.minor()) +
           (one->on ? " on " + budgets::write_date(*one->on) : "");
  }
  const auto& remark = std::get<sheets::SaidRemark>(said.what);
  return "remark about " + remark.about + ": " + remark.text;
}

std::string words(const Readback& back) {
  std::string lines;
  for (const Said& said : back.said) lines += said.sheet + " " + said.cell + ": " + words(said) + "\n";
  return lines;
}

StoredSheet& sheet_of(StoredBook& book, const std::string& name) {
  for (StoredSheet& sheet : book.sheets)
    if (sheet.name == name) return sheet;
  throw std::logic_error("no sheet " + name);
}

StoredCell text_cell(const std::string& value) {
  StoredCell cell;
  cell.kind = StoredCell::Kind::text;
  cell.text = value;
  return cell;
}

/// Moves every cell of a row, as an inserted row does to those below it.
void insert_row(StoredSheet& sheet, int before) {
  std::map<std::pair<int, int>, StoredCell> moved;
  for (auto& [place, cell] : sheet.cells)
    moved.emplace(std::pair(place.first + (place.first >= before), place.second), cell);
  sheet.cells = std::move(moved);
}

void swap_rows(StoredSheet& sheet, int one, int other) {
  std::map<std::pair<int, int>, StoredCell> moved;
  for (auto& [place, cell] : sheet.cells) {
    const int row = place.first == one ? other : place.first == other ? one : place.first;
    moved.emplace(std::pair(row, place.second), cell);
  }
  sheet.cells = std::move(moved);
}

struct Typed {
  test::OutcomeFixture fixture = test::small_outcome();
  TypedWorkbook book{fixture.outcome};
};

}  // namespace

TEST_CASE("a workbook in which nobody typed tells nothing") {
  for (const auto& fixture : {test::small_outcome(), test::long_outcome()}) {
    const Readback back = sheets::read_back(TypedWorkbook(fixture.outcome).stored());
    CHECK(words(back) == "");
    CHECK(told(back.remarkable) == "");
    CHECK(back.record.build == fixture.build->name);
    CHECK(back.record.currency == "EUR");
  }
}

// Shopping of the small outcome: row 6 impeller@1 (3 packs at 19.99), 7 delivery:quay@1 (4.90), 8 fee:pump@1
// (20.00), 9 allowance:1, 11 cover@2.
TEST_CASE("ticks, amounts, days, hours and remarks are told with their cells") {
  Typed typed;
  auto& book = typed.book;
  book.type("Shopping", "impeller@1", "Tick", std::string("x"));
  book.type("Shopping", "delivery:quay@1", "Paid", minor(500));
  book.type("Shopping", "delivery:quay@1", "Bought on", budgets::make_date(2026, 1, 31));
  book.type("Shopping", "allowance:1", "Paid", minor(777));
  book.type("Shopping", "cover@2", "Paid", minor(0));
  book.type("Shopping", "cover@2", "Arrives", budgets::make_date(2026, 3, 9));
  book.type("Shopping", "cover@2", "Your remark", std::string(" a gift\nof hers "));
  book.type("Jobs", "job:pump@1", "Tick", std::string("X"));
  book.type("Jobs", "job:pump@1", "Hours taken", sheets::Minutes{135});
  book.type("Jobs", "job:pump@1", "Done on", budgets::make_date(2026, 2, 7));
  const Readback back = sheets::read_back(book.stored());
  CHECK(told(back.remarkable) == "");
  CHECK(words(back) ==
        "Shopping A6: bought impeller@1 3 for 5997 as planned\n"
        "Shopping I7: bought delivery:quay@1 1 for 500 on 2026-01-31\n"
        "Shopping I9: bought allowance:1 1 for 777\n"
        "Shopping I11: bought cover@2 1 for 0 arrives 2026-03-09\n"
        "Shopping O11: remark about cover@2: a gift\nof hers\n"
        "Jobs A5: done pump in 135 on 2026-02-07\n");
}

TEST_CASE("a tick without an amount takes the planned one as it is now") {
  Typed typed;
  auto& book = typed.book;
  book.type("Shopping", "impeller@1", "Tick", std::string("x"));
  book.type("Shopping", "impeller@1", "Packs", std::int64_t{2});
  book.type("Shopping", "impeller@1", "Price", std::string("21,5"));
  book.type("Shopping", "cover@2", "Price", minor(14900));  // below the free-from amount of 150.00
  for (const auto& [id, amount] : {std::pair("delivery:quay@1", 490), std::pair("delivery:dock@2", 0)}) {
    if (id == std::string("delivery:dock@2")) continue;
    book.type("Shopping", id, "Tick", std::string("x"));
  }
  book.type("Shopping", "delivery:quay@2", "Tick", std::string("x"));
  book.type("Shopping", "allowance:1", "Tick", std::string("x"));
  const Readback back = sheets::read_back(book.stored());
  CHECK(words(back) ==
        "Shopping A6: bought impeller@1 2 for 4300 as planned\n"
        "Shopping A7: bought delivery:quay@1 1 for 490 as planned\n"
        "Shopping A12: bought delivery:quay@2 1 for 490 as planned\n");
  CHECK(told(back.remarkable) ==
        "Shopping I9 error: the allowance is ticked, but not what came up; type it under Paid, 0 if nothing "
        "did\n"
        "Shopping G11 warning: changed, but not bought: it is not recorded; to plan with it put it into the "
        "build file\n");
}

TEST_CASE("a delivery that is ticked comes to nothing where it is free or nothing is ordered") {
  Typed typed;
  auto& book = typed.book;
  book.type("Shopping", "impeller@1", "Packs", std::int64_t{0});
  book.type("Shopping", "delivery:quay@1", "Tick", std::string("x"));
  book.type("Shopping", "delivery:quay@2", "Tick", std::string("x"));  // of 150.00, from which it is free
  CHECK(words(sheets::read_back(book.stored())) ==
        "Shopping A7: bought delivery:quay@1 1 for 0 as planned\n"
        "Shopping A12: bought delivery:quay@2 1 for 0 as planned\n");
}

TEST_CASE("what is ticked with no packs is an error at the packs") {
  Typed typed;
  auto& book = typed.book;
  book.type("Shopping", "impeller@1", "Packs", std::int64_t{0});
  book.type("Shopping", "impeller@1", "Tick", std::string("x"));
  const Readback back = sheets::read_back(book.stored());
  CHECK(words(back) == "");
  CHECK(told(back.remarkable) == "Shopping E6 error: bought, but 0 packs\n");
}

TEST_CASE("what was bought besides the plan needs an amount and a stage") {
  Typed typed;
  auto& book = typed.book;
  book.type("Shopping", "besides:1", "Paid", minor(-250));
  book.type("Shopping", "besides:1", "Stage", std::int64_t{2});
  book.type("Shopping", "besides:1", "Article", std::string("string"));
  book.type("Shopping", "besides:2", "Paid", minor(100));
  book.type("Shopping", "besides:3", "Article", std::string("a wish"));
  book.type("Shopping", "besides:4", "Paid", minor(100));
  book.type("Shopping", "besides:4", "Stage", std::int64_t{3});
  book.type("Easily forgotten", "added:1", "Paid", minor(-1));
  const Readback back = sheets::read_back(book.stored());
  REQUIRE(back.said.size() == 2);
  CHECK(words(back.said[0]).starts_with("bought besides:"));
  CHECK(words(back.said[0]).ends_with(" 1 for -250"));
  CHECK(words(back.said[1]).ends_with(": string"));
  CHECK(told(back.remarkable).find("error: the stage is missing whose payday paid it") != std::string::npos);
  CHECK(told(back.remarkable).find("warning: nothing is paid here") != std::string::npos);
  CHECK(told(back.remarkable).find("error: found 3, expected a whole number, 1 to 2") != std::string::npos);
  CHECK(told(back.remarkable).find("error: found -0.01, expected an amount of EUR that is 0 or more") !=
        std::string::npos);
}

TEST_CASE("rows are found by their keys and columns by their headings wherever they stand") {
  Typed typed;
  typed.book.type("Shopping", "impeller@1", "Paid", minor(5000));
  typed.book.type("Shopping", "cover@2", "Tick", std::string("x"));
  StoredBook book = typed.book.stored();
  StoredSheet& shopping = sheet_of(book, "Shopping");
  insert_row(shopping, 2);
  insert_row(shopping, 8);
  swap_rows(shopping, 6, 12);  // impeller@1 and cover@2
  std::map<std::pair<int, int>, StoredCell> wider;
  for (const auto& [place, cell] : shopping.cells)
    wider.emplace(std::pair(place.first, place.second + (place.second >= 4)), cell);
  shopping.cells = wider;
  const Readback back = sheets::read_back(book);
  CHECK(words(back) ==
        "Shopping J13: bought impeller@1 3 for 5000\n"
        "Shopping A7: bought cover@2 1 for 15000 as planned\n");
  CHECK(told(back.remarkable) == "");
}

TEST_CASE("what is typed beside a name that is not the key's is an error") {
  Typed typed;
  StoredBook book = typed.book.stored();
  StoredSheet& shopping = sheet_of(book, "Shopping");
  for (int c = 1; c <= 3; ++c) std::swap(shopping.cells[{5, c}], shopping.cells[{10, c}]);
  CHECK(told(sheets::read_back(book).remarkable).find("error") == std::string::npos);
  shopping.cells[{5, 0}] = text_cell("x");
  const std::string all = told(sheets::read_back(book).remarkable);
  CHECK(all.find("Shopping D6 error: 'Cover' stands here, but the hidden key of the row is impeller@1, which "
                 "was 'Impeller'; what is typed in this row may be meant for either: put the row back "
                 "together") != std::string::npos);
  CHECK(all.find("Shopping D11 warning: 'Impeller' stands where 'Cover' was written") != std::string::npos);
}

TEST_CASE("a day or a clock time where a figure belongs is refused, and a comment is told") {
  Typed typed;
  StoredBook book = typed.book.stored();
  StoredCell day, time;
  day.kind = time.kind = StoredCell::Kind::number;
  day.number = 46'361;
  day.as_day = true;
  time.number = 0.25;
  time.as_time = true;
  sheet_of(book, "Shopping").cells[{5, 8}] = day;
  sheet_of(book, "Shopping").comments.push_back({5, 3});
  StoredSheet& jobs = sheet_of(book, "Jobs");
  jobs.cells[{4, 0}] = text_cell("x");
  jobs.cells[{4, 6}] = time;
  const std::string all = told(sheets::read_back(book).remarkable);
  CHECK(all.find("Shopping I6 error: found 2026-12-05, expected an amount of EUR like 129.95, not a day") !=
        std::string::npos);
  CHECK(all.find("Jobs G5 error: found 06:00, expected decimal hours like 1.5, at most two decimals, not a "
                 "clock time") != std::string::npos);
  CHECK(all.find("Shopping D6 warning: a comment stands here; comments are not recorded, type it under Your "
                 "remark") != std::string::npos);
}

TEST_CASE("amounts and hours far from the plan are asked about, and taken with their unit") {
  Typed typed;
  auto& book = typed.book;
  book.type("Shopping", "impeller@1", "Paid", minor(4'636'100));
  book.type("Shopping", "cover@2", "Paid", minor(10));
  book.type("Shopping", "besides:1", "Stage", std::int64_t{1});
  book.type("Shopping", "besides:1", "Paid", minor(4'636'100));
  book.type("Jobs", "job:pump@1", "Tick", std::string("x"));
  book.type("Jobs", "job:pump@1", "Hours taken", sheets::Minutes{15});
  const Readback back = sheets::read_back(book.stored());
  CHECK(words(back) == "");
  const std::string all = told(back.remarkable);
  CHECK(all.find("Shopping I6 error: 46361.00 is far from the 59.97 planned and could be the day 2026-12-05; "
                 "if it is right, type it as a text with its currency: 46361.00 EUR") != std::string::npos);
  CHECK(all.find("Shopping I11 error: 0.10 is far from the ") != std::string::npos);
  CHECK(all.find("error: 46361.00 could be the day 2026-12-05; if it is right") != std::string::npos);
  CHECK(all.find("Jobs G5 error: 0.25 h is far from the ") != std::string::npos);
  book.type("Shopping", "impeller@1", "Paid", std::string("46361.00 EUR"));
  book.type("Shopping", "cover@2", "Paid", std::string("0.10 EUR"));
  book.type("Shopping", "besides:1", "Paid", std::string("46361 EUR"));
  book.type("Jobs", "job:pump@1", "Hours taken", std::string("0.25 h"));
  const Readback confirmed = sheets::read_back(book.stored());
  CHECK(told(confirmed.remarkable) == "");
  CHECK(confirmed.said.size() == 4);
}

TEST_CASE("everything typed into a line added by hand is told") {
  Typed typed;
  const char* headings[] = {"What", "Amount", "Why", "Needed by", "Bought"};
  for (const char* heading : headings)
    typed.book.type("Easily forgotten", "added:1", heading, std::string("the ") + heading);
  typed.book.type("Easily forgotten", "added:1", "Stage", std::int64_t{1});
  typed.book.type("Easily forgotten", "added:1", "Paid", minor(300));
  const std::string all = words(sheets::read_back(typed.book.stored()));
  CHECK(all.find("the What, the Amount, the Why, the Needed by, the Bought\n") != std::string::npos);
}

TEST_CASE("changed locked cells, strange keys and lost rows are told with their places") {
  Typed typed;
  StoredBook book = typed.book.stored();
  StoredSheet& shopping = sheet_of(book, "Shopping");
  shopping.cells[{5, 3}] = text_cell("a better impeller");
  shopping.cells[{5, sheets::shop::counts}].computed = false;
  shopping.cells[{5, 7}].formula = "ROUND(E6*G6,1)";
  shopping.cells[{6, 16}] = text_cell("delivery:quai@1");
  shopping.cells[{7, 22}] = text_cell("scribble");
  shopping.cells[{4, 0}] = text_cell("Stage one");
  sheet_of(book, "Notes").cells.erase({5, 0});
  const Readback back = sheets::read_back(book);
  const std::string all = told(back.remarkable);
  CHECK(all.find("Shopping D6 warning: 'a better impeller' stands where 'Impeller' was written") !=
        std::string::npos);
  CHECK(all.find("Shopping H6 warning: the formula is another one now, and comes to 59.97") !=
        std::string::npos);
  CHECK(all.find("Shopping L6 warning: 59.97 stands where a formula belongs") != std::string::npos);
  CHECK(all.find("Shopping Q7 error: 'delivery:quai@1' is no key of this workbook; did it stand for "
                 "'delivery:quay@1'?") != std::string::npos);
  CHECK(all.find("Shopping  warning: the row of delivery:quay@1 is gone") != std::string::npos);
  CHECK(all.find("Shopping W8 warning: 'scribble' stands beside the sheet") != std::string::npos);
  CHECK(all.find("Shopping A5 warning: 'Stage one' stands where 'Stage 1 - payday 2026-01-30' was written") !=
        std::string::npos);
  CHECK(all.find("Notes  warning: the row that began with") != std::string::npos);
}

TEST_CASE("a key that stands twice counts in neither row") {
  Typed typed;
  typed.book.type("Shopping", "impeller@1", "Tick", std::string("x"));
  StoredBook book = typed.book.stored();
  StoredSheet& shopping = sheet_of(book, "Shopping");
  for (int c = 0; c <= 16; ++c)
    if (shopping.cells.count({5, c}) != 0) shopping.cells[{40, c}] = shopping.cells[{5, c}];
  const Readback back = sheets::read_back(book);
  CHECK(words(back) == "");
  CHECK(told(back.remarkable) ==
        "Shopping Q6 error: the key impeller@1 stands in 2 rows; which of them counts?\n"
        "Shopping Q41 error: the key impeller@1 stands in 2 rows; which of them counts?\n");
}

TEST_CASE("a number in a row without a key is an error, a text there is for people") {
  Typed typed;
  StoredBook book = typed.book.stored();
  StoredSheet& shopping = sheet_of(book, "Shopping");
  shopping.cells[{60, 3}] = text_cell("think of bolts");
  shopping.cells[{60, 8}].kind = StoredCell::Kind::number;
  shopping.cells[{60, 8}].number = 5;
  CHECK(told(sheets::read_back(book).remarkable) ==
        "Shopping D61 warning: 'think of bolts' stands in an added row; it is not taken\n"
        "Shopping I61 error: 5 stands in a row without a key; what is not planned belongs in the lines for "
        "it\n");
}

TEST_CASE("missing sheets and headings are told, added sheets are passed over") {
  Typed typed;
  StoredBook book = typed.book.stored();
  sheet_of(book, "Jobs").name = "Our jobs";
  for (auto& [place, cell] : sheet_of(book, "Shopping").cells)
    if (cell.text == "Paid") cell.text = "Spent";
  const std::string all = told(sheets::read_back(book).remarkable);
  CHECK(all.find("Shopping  error: the heading 'Paid' is gone or stands twice") != std::string::npos);
  CHECK(all.find("Jobs  error: the sheet is gone or has another name") != std::string::npos);
  CHECK(all.find("Our jobs  warning: the sheet was added; it is not taken") != std::string::npos);
}

TEST_CASE("a hidden record that is gone or changed refuses the workbook") {
  Typed typed;
  StoredBook book = typed.book.stored();
  StoredBook without = book;
  without.sheets.pop_back();
  CHECK_THROWS_AS(sheets::read_back(without), sheets::Unreadable);
  StoredSheet& record = sheet_of(book, "Plan record");
  StoredBook other = book;
  for (auto& [place, cell] : record.cells) {
    if (cell.kind != StoredCell::Kind::text || cell.text != "impeller@1") continue;
    cell.text = "impeller@2";
    break;
  }
  CHECK_THROWS_AS(sheets::read_back(book), sheets::Unreadable);
  sheet_of(other, "Plan record").cells.erase(sheet_of(other, "Plan record").cells.rbegin()->first);
  CHECK_THROWS_AS(sheets::read_back(other), sheets::Unreadable);
}
