#include "lib/form/form.hpp"

#include <fstream>
#include <iterator>

#include "lib/form/writing/kinds_sheet.hpp"
#include "lib/trade/kinds.hpp"
#include "tests/lib/form/support/described.hpp"
#include "tests/lib/form/support/form_file.hpp"
#include "tests/lib/form/support/random_text.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::blank_form;
using test::type;
using Text = std::string;

namespace {

std::string file_text(const std::string& name) {
  std::ifstream stream(std::string(FETTLEFUND_SOURCE_DIR) + "/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void check_round_trip(const std::string& text) {
  const build::Reading original = build::read(text, "test.build");
  INFO(test::told(original.diagnostics));
  REQUIRE(original.build);
  const form::Reading form = test::read(test::form_of(text));
  INFO(test::told(form.diagnostics));
  REQUIRE(form.build);
  CHECK(test::described(*form.build) == test::described(*original.build));
  const build::Reading again = build::read(form.text, "again.build");
  REQUIRE(again.build);
  CHECK(test::described(*again.build) == test::described(*original.build));
}

/// A build that plans, typed into an empty form.
sheets::Book small_form() {
  sheets::Book book = blank_form();
  type(book, "Build", "Name of the build", 0, Text("A bicycle"));
  type(book, "Build", "Currency", 0, Text("EUR"));
  type(book, "Build", "Cash now", 0, budgets::Money::of_minor(14000));
  type(book, "Build", "Keep back", 0, budgets::Money::of_minor(6000));
  type(book, "Build", "Comes in each payday", 0, Text("120,50"));
  type(book, "Build", "How many paydays", 0, std::int64_t{3});
  type(book, "Build", "Payday on this day of the month", 0, std::int64_t{25});
  type(book, "Build", "Paydays from", 0, Text("2027-01-01"));
  type(book, "Build", "Bench hours each stage", 0, Text("2,5"));
  type(book, "Build", "Bench date, days after payday", 0, std::int64_t{9});
  type(book, "Jobs", "Job", 6, Text("True the wheel"));
  type(book, "Jobs", "Hours", 6, Text("1.5"));
  type(book, "Jobs", "Want", 6, std::int64_t{5});
  return book;
}

std::string told_of(const sheets::Book& book) { return test::told(test::read(book).diagnostics); }

}  // namespace

TEST_CASE("a form holds every key of the format") {
  const std::string text = file_text("tests/golden/good/every-key.build");
  check_round_trip(text);
  build::Findings findings("test.build", text);
  const build::Node root = build::parse_tree(text, findings);
  CHECK(form::fill(root, {"EUR", 2}).unheld.empty());
}

TEST_CASE("random builds mean the same after the way through a form") {
  const int count = test::cases(60);
  for (int seed = 0; seed < count; ++seed) {
    CAPTURE(seed);
    check_round_trip(test::random_build_text(static_cast<std::uint64_t>(seed)));
  }
}

TEST_CASE("what was typed into an empty form is a build and its examples are not") {
  const form::Reading reading = test::read(small_form());
  INFO(test::told(reading.diagnostics));
  REQUIRE(reading.build);
  CHECK(reading.build->money.amount.minor() == 12050);
  CHECK(reading.build->bench.minutes == 150);
  REQUIRE(reading.build->jobs.size() == 1);
  CHECK(reading.build->jobs[0].id == "true-the-wheel");
  CHECK(reading.build->articles.empty());
}

TEST_CASE("an example row counts once somebody changes it") {
  sheets::Book book = small_form();
  type(book, "Shops", "Delivery", 5, budgets::Money::of_minor(700));
  const form::Reading reading = test::read(book);
  REQUIRE(reading.build);
  REQUIRE(reading.build->suppliers.size() == 1);
  CHECK(reading.build->suppliers[0].id == "harbour-parts-invented");
  CHECK(reading.build->suppliers[0].delivery.minor() == 700);
}

TEST_CASE("an empty form tells every field that a build needs, by its cell") {
  CHECK(told_of(blank_form()) ==
        "form.xlsx: Build C4: error: Name of the build: found nothing, expected a text\n"
        "form.xlsx: Build C6: error: Currency: found nothing, expected a text\n"
        "form.xlsx: Build C7: error: Cash now: found nothing, expected an amount of money\n"
        "form.xlsx: Build C8: error: Keep back: found nothing, expected an amount of money\n"
        "form.xlsx: Build C9: error: Comes in each payday: found nothing, expected an amount of money\n"
        "form.xlsx: Build C10: error: How many paydays: found nothing, expected a whole number\n"
        "form.xlsx: Jobs: error: expected at least one job\n");
}

TEST_CASE("wrong cells are told all at once with what was found and what was expected") {
  sheets::Book book = small_form();
  type(book, "Jobs", "Want", 6, std::int64_t{11});
  type(book, "Jobs", "By", 6, Text("31.12.2027"));
  type(book, "Jobs", "What comes off", 6, Text("Rear whel"));
  type(book, "Comes off", "What comes off", 6, Text("Rear wheel"));
  type(book, "Comes off", "Hours off", 6, Text("an hour"));
  CHECK(told_of(book) ==
        "form.xlsx: Comes off D6: error: Hours off: found 'an hour', expected decimal hours like 1.5\n"
        "form.xlsx: Comes off E6: error: Hours on: found nothing, expected decimal hours like 1.5\n"
        "form.xlsx: Jobs E6: error: Want: found 11, expected a whole number from 0 to 10\n"
        "form.xlsx: Jobs G6: error: By: found '31.12.2027', expected a day like 2027-03-05\n"
        "form.xlsx: Jobs K6: error: What comes off: found 'Rear whel', expected a name of the sheet Comes "
        "off; did you mean Rear wheel?\n");
}

TEST_CASE("a build without paydays is told the ways to say them") {
  sheets::Book book = small_form();
  type(book, "Build", "Payday on this day of the month", 0, sheets::Value());
  CHECK(told_of(book) ==
        "form.xlsx: Build C14: error: Paydays from: expected one of 'payday on the sheet Dates', 'Paydays "
        "every so "
        "many weeks', 'Payday on this day of the month' and 'Payday on the last working day'\n");
  type(book, "Build", "Paydays from", 0, sheets::Value());
  CHECK(told_of(book) ==
        "form.xlsx: Build: error: expected one of the ways to tell the paydays, or paydays on the sheet "
        "Dates\n");
}

TEST_CASE("two rows of one name are refused whatever their case and blanks") {
  sheets::Book book = small_form();
  type(book, "Jobs", "Job", 7, Text("true  the Wheel"));
  type(book, "Jobs", "Hours", 7, Text("1"));
  type(book, "Jobs", "Want", 7, std::int64_t{1});
  CHECK(
      told_of(book) ==
      "form.xlsx: Jobs C7: error: Job: found 'true  the Wheel', expected another name than that of row 6\n");
}

TEST_CASE("an amount that could be two is refused") {
  sheets::Book book = small_form();
  type(book, "Build", "Cash now", 0, Text("1.234"));
  CHECK(told_of(book) ==
        "form.xlsx: Build C7: error: Cash now: found '1.234', expected an amount of EUR like 129.95; this "
        "could be two numbers\n");
}

TEST_CASE("a form offers every kind of work and those of its trade first") {
  for (const std::string trade : {"", "boat", "van"}) {
    const sheets::Sheet sheet = form::kinds_sheet(trade);
    std::vector<std::string> names;
    for (const auto& [place, cell] : sheet.cells)
      if (place.second == 0 && place.first > 2) names.push_back(std::get<std::string>(cell.value));
    CHECK(names.size() == trade::kinds().size());
    CHECK(form::kinds_source() == "='Kinds of work'!$A$4:$A$" + std::to_string(names.size() + 3));
    bool near = true;
    for (const std::string& name : names) {
      const trade::Kind* kind = trade::find_kind(name);
      REQUIRE(kind != nullptr);
      const bool known = trade.empty() || trade::known_to(*kind, trade);
      CHECK((near || !known));
      near = known;
    }
  }
}

TEST_CASE("the example of another sheet is no name") {
  sheets::Book book = small_form();
  type(book, "Needs", "Job", 6, Text("True the wheel"));
  type(book, "Needs", "Thing", 6, Text("Grip glue"));
  CHECK(told_of(book) ==
        "form.xlsx: Needs D6: error: Thing: found 'Grip glue', expected a name of the sheet Things; the "
        "example row of "
        "that sheet counts only once it is changed\n");
}

TEST_CASE("a need is for a job or for what comes off, not both and not neither") {
  sheets::Book book = small_form();
  type(book, "Things", "Thing", 6, Text("Spoke"));
  type(book, "Things", "Kind", 6, Text("Part"));
  type(book, "Comes off", "What comes off", 6, Text("Rear wheel"));
  type(book, "Comes off", "Hours off", 6, std::int64_t{1});
  type(book, "Comes off", "Hours on", 6, std::int64_t{1});
  type(book, "Needs", "Thing", 6, Text("spoke"));
  type(book, "Needs", "Thing", 7, Text("Spoke"));
  type(book, "Needs", "Job", 7, Text("True the wheel"));
  type(book, "Needs", "Comes off", 7, Text("Rear wheel"));
  CHECK(told_of(book) ==
        "form.xlsx: Needs B6: error: Job: found nothing, expected a name under Job or Comes off\n"
        "form.xlsx: Needs C7: error: Comes off: found 'Rear wheel', expected nothing: 'Job' is filled in "
        "already\n");
}

TEST_CASE("what a kind of row has no use for is told") {
  sheets::Book book = small_form();
  type(book, "Steps", "What it is", 6, Text("step"));
  type(book, "Steps", "Job", 6, Text("True the wheel"));
  type(book, "Steps", "Text", 6, Text("Clamp the rim"));
  type(book, "Steps", "Figure", 6, Text("85 Nm"));
  CHECK(told_of(book) ==
        "form.xlsx: Steps F6: error: Figure: found '85 Nm', expected nothing here beside 'step'\n");
}

TEST_CASE("a file that is no form is told so") {
  CHECK(test::told(form::read_form("PK\x03\x04rubbish", "a.xlsx").diagnostics)
            .starts_with("a.xlsx: error: found a workbook that cannot be read: "));
  sheets::Book other;
  other.title = "other";
  other.sheets.emplace_back("Sheet1");
  CHECK(test::told(test::read(other).diagnostics) ==
        "form.xlsx: error: found a workbook that is no form, expected a build file, or a form that "
        "`fettlefund form` wrote\n");
  CHECK(test::told(form::read_form("\xD0\xCF\x11\xE0 old", "a.xls").diagnostics) ==
        "a.xls: error: found a workbook of the older kind, or one with a password, expected one saved as "
        "xlsx without a password\n");
}
