#include "lib/sheets/book/workbook.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <sstream>
#include <string>

#include "lib/sheets/book/render.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "tests/lib/support/outcome_fixture.hpp"

#include <doctest/doctest.h>
#include <pugixml.hpp>
#include <zip.h>

using namespace fettlefund;
using sheets::Book;
using sheets::Cell;
using sheets::Sheet;

namespace {

namespace fs = std::filesystem;

/// A folder of its own that goes away again.
struct Folder {
  Folder() {
    std::string name = (fs::temp_directory_path() / "workbook-test-XXXXXX").string();
    path = mkdtemp(name.data());
  }
  ~Folder() { fs::remove_all(path); }
  std::string file(const std::string& name) const { return (path / name).string(); }
  fs::path path;
};

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Part name -> text.
std::map<std::string, std::string> parts_of(const std::string& path) {
  std::map<std::string, std::string> parts;
  zip_t* archive = zip_open(path.c_str(), ZIP_RDONLY, nullptr);
  REQUIRE(archive != nullptr);
  for (zip_int64_t i = 0; i < zip_get_num_entries(archive, 0); ++i) {
    zip_stat_t entry;
    REQUIRE(zip_stat_index(archive, static_cast<zip_uint64_t>(i), 0, &entry) == 0);
    std::string text(entry.size, '\0');
    zip_file_t* file = zip_fopen_index(archive, static_cast<zip_uint64_t>(i), 0);
    REQUIRE(zip_fread(file, text.data(), entry.size) == static_cast<zip_int64_t>(entry.size));
    REQUIRE(zip_fclose(file) == 0);
    parts[entry.name] = text;
  }
  zip_discard(archive);
  return parts;
}

const Sheet& sheet_of(const Book& book, const std::string& name) {
  for (const Sheet& sheet : book.sheets)
    if (sheet.name == name) return sheet;
  throw std::logic_error("no sheet " + name);
}

std::int64_t money_at(const Book& book, const std::string& sheet, int row, int column) {
  const Cell* cell = sheet_of(book, sheet).find(row, column);
  REQUIRE(cell != nullptr);
  return std::get<sheets::Money>(cell->value).minor();
}

const std::string& text_at(const Book& book, const std::string& sheet, int row, int column) {
  const Cell* cell = sheet_of(book, sheet).find(row, column);
  REQUIRE(cell != nullptr);
  return std::get<std::string>(cell->value);
}

constexpr int kFirstStageRow = 8;  // of Overview
enum Overview { money_in = 3, planned = 4, paid = 5, counts = 6, left = 7, check = 12 };

}  // namespace

TEST_CASE("the same outcome gives the same bytes") {
  const Folder folder;
  const auto fixture = test::long_outcome();
  sheets::write_workbook(fixture.outcome, folder.file("one.xlsx"));
  setenv("TZ", "Asia/Tokyo", 1);
  tzset();
  sheets::write_workbook(test::long_outcome().outcome, folder.file("two.xlsx"));
  unsetenv("TZ");
  tzset();
  const std::string one = bytes_of(folder.file("one.xlsx"));
  CHECK(one.size() > 20000);
  CHECK(one == bytes_of(folder.file("two.xlsx")));
}

TEST_CASE("every part of the file is well-formed XML") {
  const Folder folder;
  auto fixture = test::long_outcome();
  fixture.build->name = "<&>\"' ]]> \xF0\x9F\x94\xA7 & \x01 build (invented)";
  fixture.outcome.stages[0].orders[0].lines[0].name = "<b>&amp;_x0041_\x02\"</b>";
  sheets::write_workbook(fixture.outcome, folder.file("a.xlsx"));
  const auto parts = parts_of(folder.file("a.xlsx"));
  CHECK(parts.size() > 15);
  for (const auto& part : parts) {
    CAPTURE(part.first);
    pugi::xml_document document;
    CHECK(document.load_string(part.second.c_str()));
  }
  CHECK(parts.at("xl/sharedStrings.xml").find("&lt;b&gt;&amp;amp;_x005F_x0041_ \"&lt;/b&gt;") !=
        std::string::npos);
}

TEST_CASE("every formula stands in the file with the planner's figure as its stored value") {
  const Folder folder;
  const auto fixture = test::long_outcome();
  const Book book = sheets::make_book(fixture.outcome);
  sheets::render(book, folder.file("a.xlsx"));
  const auto parts = parts_of(folder.file("a.xlsx"));
  int formulas = 0;
  for (std::size_t i = 0; i < book.sheets.size(); ++i) {
    pugi::xml_document document;
    REQUIRE(document.load_string(parts.at("xl/worksheets/sheet" + std::to_string(i + 1) + ".xml").c_str()));
    std::map<std::string, pugi::xml_node> stored;
    for (const auto& row : document.child("worksheet").child("sheetData").children("row"))
      for (const auto& cell : row.children("c")) stored[cell.attribute("r").value()] = cell;
    for (const auto& [place, cell] : book.sheets[i].cells) {
      if (cell.formula.empty()) continue;
      ++formulas;
      const auto node = stored[sheets::reference(place.first, place.second)];
      CHECK(node.child("f").text().get() == cell.formula.substr(1));
      if (const auto* text = std::get_if<std::string>(&cell.value))
        CHECK(node.child("v").text().get() == *text);
      else
        CHECK(node.child("v").text().as_double() ==
              doctest::Approx(sheets::stored_number(cell.value, 2)).epsilon(1e-14));
    }
  }
  CHECK(formulas > 250);
}

// The figures are worked out by hand in outcome_fixture.hpp.
TEST_CASE("stages show money in, planned, counted and left as planned") {
  const auto fixture = test::small_outcome();
  const Book book = sheets::make_book(fixture.outcome);
  const auto at = [&](int stage, int column) {
    return money_at(book, "Overview", kFirstStageRow + stage, column);
  };
  CHECK(at(0, money_in) == 20000);
  CHECK(at(0, planned) == 8912);
  CHECK(at(0, paid) == 0);
  CHECK(at(0, counts) == 8912);
  CHECK(at(0, left) == 21088);
  CHECK(at(1, planned) == 17010);
  CHECK(at(1, left) == 24078);
  CHECK(text_at(book, "Overview", kFirstStageRow, check) == "ok");
}

TEST_CASE("shopping goes stage by stage, delivery after its order and the allowance last") {
  const auto fixture = test::small_outcome();
  const Book book = sheets::make_book(fixture.outcome);
  const std::string expected[] = {"impeller@1", "delivery:quay@1", "fee:pump@1", "allowance:1"};
  const std::int64_t planned_minor[] = {5997, 490, 2000, 425};
  for (int i = 0; i < 4; ++i) {
    CHECK(text_at(book, "Shopping", 5 + i, sheets::shop::key) == expected[i]);
    CHECK(money_at(book, "Shopping", 5 + i, sheets::shop::planned) == planned_minor[i]);
    CHECK(money_at(book, "Shopping", 5 + i, sheets::shop::counts) == planned_minor[i]);
  }
  CHECK(text_at(book, "Shopping", 9, 0) == "Stage 2 - payday 2026-02-27");
  CHECK(money_at(book, "Shopping", 11, sheets::shop::planned) == 0);  // delivery, free from 150.00
}

TEST_CASE("keys are unique on each sheet and all stand in the hidden record") {
  const auto fixture = test::long_outcome();
  const Book book = sheets::make_book(fixture.outcome);
  const Sheet& record = sheet_of(book, "Plan record");
  CHECK(record.hidden);
  std::set<std::pair<std::string, std::string>> recorded;
  for (const auto& [place, cell] : record.cells)
    if (place.second == 1 && place.first >= 9 && !std::get<std::string>(cell.value).empty())
      CHECK(recorded.emplace(text_at(book, "Plan record", place.first, 0), std::get<std::string>(cell.value))
                .second);
  int shopping_keys = 0;
  for (const auto& [place, cell] : sheet_of(book, "Shopping").cells)
    if (place.second == sheets::shop::key && place.first > sheets::kHeaderRow) {
      ++shopping_keys;
      CHECK(recorded.count({"Shopping", std::get<std::string>(cell.value)}) == 1);
    }
  CHECK(shopping_keys > 60);
}

TEST_CASE("another price makes another plan fingerprint and the same plan the same") {
  auto fixture = test::small_outcome();
  const std::string first = text_at(sheets::make_book(fixture.outcome), "Plan record", 4, 1);
  CHECK(first.size() == 16);
  CHECK(text_at(sheets::make_book(test::small_outcome().outcome), "Plan record", 4, 1) == first);
  fixture.outcome.stages[0].orders[0].lines[0].price = sheets::Money::of_minor(1998);
  CHECK(text_at(sheets::make_book(fixture.outcome), "Plan record", 4, 1) != first);
}

TEST_CASE("no formula uses a function that common spreadsheet programs lack") {
  const Book book = sheets::make_book(test::long_outcome().outcome);
  const std::set<std::string> plain = {"SUM",    "SUMIFS", "SUMPRODUCT", "IF",     "ISNUMBER",
                                       "ISTEXT", "ROUND",  "ROUNDUP",    "COUNTIF"};
  for (const Sheet& sheet : book.sheets)
    for (const auto& [place, cell] : sheet.cells)
      for (std::size_t at = cell.formula.find('('); at != std::string::npos;
           at = cell.formula.find('(', at + 1)) {
        std::size_t begin = at;
        while (begin > 0 && std::isupper(static_cast<unsigned char>(cell.formula[begin - 1])) != 0) --begin;
        if (begin < at) CHECK(plain.count(cell.formula.substr(begin, at - begin)) == 1);
      }
}

TEST_CASE("a floor that is missed and hours that run over are said in words") {
  auto fixture = test::small_outcome();
  fixture.outcome.stages[0].floor = sheets::Money::of_minor(30000);
  fixture.outcome.stages[0].minutes_limit = 60;
  fixture.outcome.stages[1].minutes_limit = 60;
  const Book book = sheets::make_book(fixture.outcome);
  CHECK(text_at(book, "Overview", kFirstStageRow, check) == "below keep-back, over hours");
  CHECK(text_at(book, "Overview", kFirstStageRow + 1, check) == "over hours");
}

TEST_CASE("a plan that is not proven says how good any plan can be") {
  auto fixture = test::small_outcome();
  CHECK(
      text_at(sheets::make_book(fixture.outcome), "Overview", 1, 0) ==
      "Proven best: this plan is worth 16.0 want-months up to 2026-03-27, and no plan of this build is "
      "worth more. Each job is wanted 0 to 10: one wanted 6 and done five months before the end counts 30.");
  fixture.outcome.proof = planning::Proof::stopped;
  fixture.outcome.bound_want_days = 974;
  CHECK(text_at(sheets::make_book(fixture.outcome), "Overview", 1, 0) ==
        "Not proven best: this plan is worth 16.0 want-months up to 2026-03-27; no plan is worth "
        "more than 32.0. Each job is wanted 0 to 10: one wanted 6 and done five months before the end counts "
        "30.");
}

TEST_CASE("what two people read from paper stands upright, and all that is typed in the shop on the page") {
  const Folder folder;
  const Book book = sheets::make_book(test::long_outcome().outcome);
  for (const char* name : {"Overview", "Shopping", "Easily forgotten"}) {
    CAPTURE(name);
    const Sheet& sheet = sheet_of(book, name);
    CHECK_FALSE(sheet.landscape);
    CHECK(sheet.printed_width() <= 119.1);  // characters across in type of 9 points
  }
  using namespace sheets;
  for (const int column : {shop::tick, shop::article, shop::packs, shop::price, shop::paid, shop::arrives})
    CHECK(column < sheet_of(book, "Shopping").printed_columns);
  render(book, folder.file("a.xlsx"));
  const std::string parts = parts_of(folder.file("a.xlsx")).at("xl/workbook.xml");
  CHECK(parts.find("Print_Area") != std::string::npos);
  CHECK(parts.find("Shopping!$A$1:$K$") != std::string::npos);
}

TEST_CASE("an empty plan still makes a workbook") {
  const Folder folder;
  auto fixture = test::small_outcome();
  for (auto& stage : fixture.outcome.stages) {
    planning::StageView bare;
    bare.number = stage.number;
    bare.payday = stage.payday;
    bare.bench = stage.bench;
    bare.cash_in = stage.cash_in;
    stage = bare;
  }
  fixture.outcome.tools.clear();
  fixture.outcome.left_out.clear();
  test::add_up(fixture);
  CHECK_NOTHROW(sheets::write_workbook(fixture.outcome, folder.file("a.xlsx")));
  CHECK(parts_of(folder.file("a.xlsx")).count("xl/workbook.xml") == 1);
}

TEST_CASE("what cannot be written is refused with its place") {
  const Folder folder;
  auto fixture = test::small_outcome();
  CHECK_THROWS_WITH_AS(sheets::write_workbook(fixture.outcome, "/no/such/folder/a.xlsx"),
                       "cannot write the file /no/such/folder/a.xlsx", std::runtime_error);
  fixture.outcome.stages[0].orders[0].lines[0].name = "\xFF";
  CHECK_THROWS_WITH_AS(sheets::write_workbook(fixture.outcome, folder.file("a.xlsx")),
                       "not valid UTF-8 text for Shopping D6", std::runtime_error);
  fixture = test::small_outcome();
  fixture.outcome.warnings = {std::string(40000, 'w')};
  CHECK_THROWS_AS(sheets::write_workbook(fixture.outcome, folder.file("a.xlsx")), std::runtime_error);
  fixture = test::small_outcome();
  fixture.build->money.opening = sheets::Money::of_minor(2'000'000'000'000'000);
  CHECK_THROWS_AS(sheets::write_workbook(fixture.outcome, folder.file("a.xlsx")), std::runtime_error);
}
