#include "lib/progress/closing.hpp"
#include "tests/cli/support/handed_workbook.hpp"
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using test::BuildText;
using test::RecordPlace;
using test::TypedWorkbook;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
struct Remembering : RecordPlace {
  Remembering() {
    BuildText text;
    text.articles =
        R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
      "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 150}]},
      "rack": {"name": "Rack", "kind": "part", "offers": [{"supplier": "shop", "price": 90}]})";
    text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
      "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]},
      "carry": {"name": "Fit the rack", "want": 3, "hours": 2, "uses": [{"article": "rack"}]})";
    put("bike.build", text.text());
  }
};

}  // namespace

TEST_CASE("sheet shows the stages gone by and goes on with the plan's reserves") {
  Remembering place;
  REQUIRE(place.record({"bought", "seat@1=148.50", "--on", "2027-01-01"}) == 0);
  REQUIRE(place.record({"fitted", "sit", "--hours", "2.5", "--on", "2027-01-04"}) == 0);
  REQUIRE(place.record({"in", "12", "old seat sold", "--on", "2027-01-20"}) == 0);
  REQUIRE(place.record({"bought", "lamp@2", "--on", "2027-02-01"}) == 0);
  REQUIRE(place.run({"sheet", "bike.build", "--from", "2027-02-02"}) == 0);
  TypedWorkbook book = test::handed_workbook("2027-02-02");
  book.save("typed.xlsx");
  CHECK(place.contents("bike.xlsx") == place.contents("typed.xlsx"));
  const auto money = [&](const std::string& key, const std::string& heading) {
    return std::get<sheets::Money>(book.cell("Overview", key, heading).value).minor();
  };
  CHECK(money("stage:1", "Planned") == 15000);
  CHECK(money("stage:1", "Paid so far") == 14850);
  CHECK(money("stage:1", "Left") == 10000 + 10000 - 14850);
  CHECK(money("stage:2", "Paid so far") == 6000);
  REQUIRE(place.run({"plan", "bike.build", "--from", "2027-02-02", "--json"}) == 0);
  const auto plan = nlohmann::json::parse(place.out);
  for (const auto& stage : plan["stages"]) {
    const std::string key = "stage:" + std::to_string(stage["number"].get<int>());
    CHECK(budgets::write_money(budgets::Money::of_minor(money(key, "Left")),
                               *budgets::find_currency("EUR")) == stage["money"]["left"]);
  }
  // handed back untouched it tells nothing new
  CHECK(place.run({"record", "bike.build", "--from", "bike.xlsx", "--on", "2027-02-02"}) == 0);
  CHECK(place.told("Nothing new to record in bike.xlsx.\n"));
}

TEST_CASE("a tick of a step stops sheet until it is recorded and stands in the next workbook") {
  Remembering place;
  TypedWorkbook book = test::handed_workbook("");
  REQUIRE(place.run({"sheet", "bike.build"}) == 0);
  book.type("Work order", "step:sit@1.1", "Tick", std::string("x"));
  book.save("bike.xlsx");
  CHECK(place.run({"sheet", "bike.build"}) == 2);
  CHECK(place.told("Work order A"));
  CHECK(place.run({"record", "bike.build", "--from", "bike.xlsx", "--on", "2027-01-02"}) == 0);
  CHECK(place.told("remark about step:sit@1.1: ticked: "));
  CHECK(place.run({"sheet", "bike.build", "--from", "2027-01-02"}) == 0);
  TypedWorkbook next = test::handed_workbook("2027-01-02");
  CHECK(next.cell("Work order", "step:sit@1.1", "Tick").value == sheets::Value(std::string("x")));
}

TEST_CASE("the year is told for programs and its prices as lines to paste") {
  Remembering place;
  REQUIRE(place.record({"bought", "seat@1=148.50", "--on", "2027-01-01"}) == 0);
  CHECK(place.run({"year", "bike.build", "--json"}) == 0);
  CHECK(nlohmann::json::parse(place.out)["paid"] == "148.50");
  CHECK(place.run({"year", "bike.build", "--prices"}) == 0);
  CHECK(place.told("{\"supplier\": \"shop\", \"price\": \"148.50\"}\n"));
  CHECK(place.run({"year", "bike.build", "--prices", "--json"}) == 2);
}

TEST_CASE("what was on its way has arrived, and what is gone may be named by its key") {
  Remembering place;
  REQUIRE(place.record({"bought", "seat@1", "--arrives", "2027-02-20", "--on", "2027-01-01"}) == 0);
  CHECK(place.record({"arrived", "seta@1", "--on", "2027-01-03"}) == 2);
  CHECK(
      place.told("'seta@1' is not the key of something that is recorded as bought by then; did you mean "
                 "'seat@1'?\n"));
  CHECK(place.record({"arrived", "seat@1", "--on", "2027-01-03"}) == 0);
  CHECK(place.told("seat@1 arrives on 2027-01-03\n"));
  CHECK(place.run({"plan", "bike.build", "--from", "2027-01-04", "--json"}) == 0);
  CHECK(nlohmann::json::parse(place.out)["stages"][0]["jobs"][0]["id"] == "sit");  // fitted from that day on
  CHECK(place.record({"broken", "seat@1", "--on", "2027-01-04"}) == 0);
  CHECK(place.told("broken 1 pack of seat@1\n"));
  CHECK(place.record({"arrived", "seat@1", "--on", "2027-01-05"}) == 2);
  CHECK(place.told("nothing is left of seat@1 that could arrive\n"));
}

TEST_CASE("after the last bench date sheet still writes what was planned, paid and done") {
  Remembering place;
  REQUIRE(place.record({"bought", "seat@1=148.50", "--on", "2027-01-01"}) == 0);
  REQUIRE(place.record({"fitted", "sit", "--hours", "2.5", "--on", "2027-01-04"}) == 0);
  REQUIRE(place.record({"given-up", "light", "--on", "2027-02-04"}) == 0);
  REQUIRE(place.record({"counted", "352", "--on", "2027-04-20"}) == 0);
  CHECK(place.run({"plan", "bike.build"}) == 2);
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  CHECK(place.out ==
        "As of 2027-04-20 (last entry of the record)\nWrote bike.xlsx.\n"
        "Every stage is over: it shows what was planned, paid and done.\n");
  const auto build = build::read_file("bike.build").build;
  const auto log = log::read_file("bike.record").log;
  const budgets::Date day = *budgets::read_date("2027-04-20");
  const planning::Closing closing = planning::close_on(*build, *log, day);
  TypedWorkbook book(closing.outcome, planning::past_of(*build, *log, day));
  book.save("typed.xlsx");
  CHECK(place.contents("bike.xlsx") == place.contents("typed.xlsx"));
  const auto money = [&](const std::string& key, const std::string& heading) {
    return std::get<sheets::Money>(book.cell("Overview", key, heading).value).minor();
  };
  CHECK(money("stage:1", "Paid so far") == 14850);
  CHECK(money("stage:4", "Left") == 35200);  // as counted
  CHECK(money("plan:left", "Money in") == 35200);
  REQUIRE(closing.outcome.left_out.size() == 2);
  CHECK(closing.outcome.left_out[0].reason == "it was given up on 2027-02-04");
  CHECK(closing.outcome.left_out[1].reason == "every stage is over");
  // It goes both ways still: money paid late is recorded, once.
  book.type("Shopping", "besides:1", "Stage", std::int64_t{4});
  book.type("Shopping", "besides:1", "Paid", sheets::Money::of_minor(900));
  book.save("typed.xlsx");
  const std::vector<std::string> hand_back = {"record",     "bike.build", "--from",
                                              "typed.xlsx", "--on",       "2027-04-20"};
  CHECK(place.run(hand_back) == 0);
  CHECK(place.told(", 1 pack, 9.00 EUR"));
  CHECK(place.run(hand_back) == 0);
  CHECK(place.told("Nothing new to record in typed.xlsx.\n"));
}

TEST_CASE("a build of which nothing was done closes with its cash and all its jobs left out") {
  Remembering place;
  CHECK(place.run({"sheet", "bike.build", "--from", "2027-06-01"}) == 0);
  CHECK(place.told("As of 2027-06-01 (asked for)\n"));
  CHECK(place.told("Every stage is over"));
}
