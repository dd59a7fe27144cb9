#include "lib/purse/plan.hpp"
#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/typed_workbook.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using fettlefund::test::BuildText;
using fettlefund::test::RecordPlace;
using fettlefund::test::TypedWorkbook;
namespace fs = std::filesystem;

namespace {

struct Shed : RecordPlace {
  Shed() {
    BuildText bike, van;
    bike.jobs = R"("sit": {"name": "Fit the seat", "want": 9, "hours": 4, "cost": 90})";
    van.jobs = R"("sleep": {"name": "Fit the bed", "want": 7, "hours": 6, "cost": 70})";
    put("bike.build", bike.text());
    put("van.build", van.text());
    put("shed.purse", R"({"fettlefund_purse": 1, "name": "The shed", "currency": "EUR", // invented
      "money": {"opening": 100, "keep_back": 0, "amount": 50, "stages": 3,
                "paydays": {"day_of_month": 1, "from": "2027-01-01", "holidays": []}},
      "bench": {"hours": 8, "days_after_payday": 3, "bother": 0},
      "builds": {"bike": "bike.build", "van": "van.build"}})");
  }
};

}  // namespace

TEST_CASE("a purse is checked and planned, and its outputs are one a build") {
  Shed place;
  CHECK(place.run({"check", "shed.purse"}) == 0);
  CHECK(place.out == "The shed: no errors, 2 builds, 3 stages, 2 jobs, 0 warnings\n");
  CHECK(place.run({"plan", "shed.purse", "--brief"}) == 0);
  CHECK(place.out ==
        "The shed\n"
        "2 builds on one purse. 3 stages, amounts in EUR, opening cash 100.00, at least\n"
        "0.00 kept back.\n\n"
        "Stage  Payday      Bench              In      Spent       Left  Hours\n"
        "    1  2027-01-01  2027-01-04      50.00      90.00      60.00  4 of 8 h\n"
        "    2  2027-02-01  2027-02-04      50.00      70.00      40.00  6 of 8 h\n"
        "    3  2027-03-01  2027-03-04      50.00       0.00      90.00  0 of 8 h\n\n"
        "Builds\n"
        "                                          jobs       hours         spent\n"
        "  test build                            1 of 1         4 h         90.00\n"
        "  test build                            1 of 1         6 h         70.00\n\n"
        "Proven best: this plan is worth 38.6 want-months, and no plan is worth more, nor\n"
        "as much for less money.\n");
  for (const auto& [command, extension] :
       {std::pair("shopping", ".csv"), std::pair("calendar", ".ics"), std::pair("page", ".html")}) {
    CHECK(place.run({command, "shed.purse"}) == 0);
    CHECK(place.out == std::string("Wrote shed-bike") + extension + ".\nWrote shed-van" + extension + ".\n");
  }
  CHECK(place.contents("shed-bike.csv").find("Fit the seat") != std::string::npos);
  CHECK(place.contents("shed-bike.csv").find("Fit the bed") == std::string::npos);
  const std::string page = place.contents("shed-bike.html");
  CHECK(page.find("part of the plan of The shed is worth") != std::string::npos);
  CHECK(page.find("roven best") == std::string::npos);
  CHECK(place.run({"plan", "shed.purse", "--stage", "2"}) == 0);
  CHECK(place.out.find("Fit the bed") != std::string::npos);
  CHECK(place.run({"plan", "shed.purse", "--stage", "4"}) == 2);
}

TEST_CASE("what a purse cannot do is refused with what can") {
  Shed place;
  for (const char* command : {"risk", "year", "picture", "ids"}) {
    CHECK(place.run({command, "shed.purse"}) == 2);
    CHECK(place.err == std::string("fettlefund: shed.purse is a purse; `") + command +
                           "` takes one of its build files. A purse goes with check, plan, sheet, shopping, "
                           "calendar, page\n");
  }
  CHECK(place.run({"record", "shed.purse", "list"}) == 2);
  CHECK(place.run({"page", "shed.purse", "--from", "2027-02-01"}) == 0);
  CHECK(place.run({"page", "shed.purse", "-o", "x.html"}) == 2);
}

TEST_CASE("a purse goes on from the records of its builds, with one cash") {
  Shed place;
  CHECK(place.record({"bought", "fee:sit@1", "--on", "2027-01-01"}) == 0);
  CHECK(place.record({"fitted", "sit", "--hours", "3", "--on", "2027-01-04"}) == 0);
  CHECK(place.run({"record", "van.build", "in", "5", "old mats sold", "--on", "2027-01-06"}) == 0);
  CHECK(place.run({"plan", "shed.purse", "--brief"}) == 0);
  CHECK(place.out ==
        "As of 2027-01-06 (last entry of the records)\n"
        "The shed\n"
        "2 builds on one purse. Stages 2 to 3 of 3, amounts in EUR, cash on 2027-01-06\n"
        "65.00, at least 0.00 kept back.\n\n"
        "Stage  Payday      Bench              In      Spent       Left  Hours\n"
        "    2  2027-02-01  2027-02-04      50.00      70.00      45.00  6 of 8 h\n"
        "    3  2027-03-01  2027-03-04      50.00       0.00      95.00  0 of 8 h\n\n"
        "Builds\n"
        "                                          jobs       hours         spent\n"
        "  test build                            0 of 0         0 h          0.00\n"
        "  test build                            1 of 1         6 h         70.00\n\n"
        "Proven best: this plan is worth 12.8 want-months, and no plan is worth more, nor\n"
        "as much for less money.\n");
  CHECK(place.run({"plan", "shed.purse"}) == 0);
  CHECK(place.told("Cash is 65.00 EUR (the purse's, not counted yet: worked out from its"));
  CHECK(place.run({"plan", "shed.purse", "--brief", "--from", "2027-01-04"}) == 0);
  CHECK(place.out.starts_with(
      "As of 2027-01-04 (asked for; 1 later entry of the records is left out)\nThe shed\n"));
  CHECK(place.run({"plan", "shed.purse", "--stage", "1"}) == 2);
  CHECK(place.err == "fettlefund: the plan has no stage 1; it has stages 2 to 3\n");
  CHECK(place.run({"shopping", "shed.purse"}) == 0);
  CHECK(place.out ==
        "As of 2027-01-06 (last entry of the records)\nWrote shed-bike.csv.\nWrote shed-van.csv.\n");
  CHECK(place.run({"plan", "shed.purse", "--brief", "--no-log"}) == 0);
  CHECK(place.out.starts_with("The shed\n"));
  CHECK(place.run({"record", "van.build", "counted", "100", "--on", "2027-03-05"}) == 0);
  CHECK(place.run({"plan", "shed.purse"}) == 2);
  CHECK(place.err ==
        "fettlefund: every stage of shed.purse is over on 2027-03-05; more stages in the purse file's money "
        "would let it go on\n");
}

TEST_CASE("a changed purse file changes no income of the past") {
  Shed place;
  const auto change = [&](const std::string& from, const std::string& to) {
    std::string text = place.contents("shed.purse");
    text.replace(text.find(from), from.size(), to);
    place.put("shed.purse", text);
  };
  const auto cash = [&](const std::string& day) {
    CHECK(place.run({"plan", "shed.purse", "--json", "--from", day}) == 0);
    return nlohmann::json::parse(place.out)["opening"].get<std::string>();
  };
  CHECK(place.record({"bought", "fee:sit@1", "--on", "2027-01-01"}) == 0);
  change("\"amount\": 50", "\"amount\": 80");
  change("\"opening\": 100", "\"opening\": 700");
  CHECK(cash("2027-01-06") == "60.00");
  CHECK(cash("2027-02-02") == "140.00");
  CHECK(place.run({"plan", "shed.purse"}) == 0);
  CHECK(place.told("Up to 2027-01-01 the opening cash, income and dated money"));
  // What the other build's record notes later goes on from there.
  CHECK(place.run({"record", "van.build", "remark", "cleared out", "--on", "2027-02-01"}) == 0);
  change("\"amount\": 80", "\"amount\": 10");
  CHECK(cash("2027-02-02") == "140.00");
  // So does a count, and what came since.
  CHECK(place.record({"counted", "120", "--on", "2027-02-03"}) == 0);
  change("\"amount\": 10", "\"amount\": 33");
  CHECK(cash("2027-02-03") == "120.00");
  CHECK(cash("2027-03-02") == "153.00");
}

TEST_CASE("a purse that cannot be told keeps nothing, and the books go on") {
  Shed place;
  const std::string purse = place.contents("shed.purse");
  place.put("other.purse", purse);
  CHECK(place.record({"remark", "one", "--on", "2027-01-01"}) == 0);
  CHECK(place.err ==
        "warning: other.purse and shed.purse both name this build, so what either brought is not kept with "
        "this\n");
  CHECK(place.contents("bike.record").find("purse-brought") == std::string::npos);
  place.put("other.purse", "no purse");
  CHECK(place.record({"remark", "two", "--on", "2027-01-01"}) == 0);
  CHECK(
      place.err ==
      "warning: other.purse has errors, so what it brought is not kept with this; `check other.purse` tells "
      "them\n");
  CHECK(place.contents("bike.record").find("\tpurse-brought=150.00\t") != std::string::npos);
}

TEST_CASE("a record with a mistake stops the purse, and is named") {
  Shed place;
  place.put("van.record", "no record\nat all\n");
  CHECK(place.run({"plan", "shed.purse"}) == 2);
  CHECK(place.told("van.record:1:1: error"));
  CHECK(place.told("plan with --no-log as if nothing had happened"));
}

TEST_CASE("a purse's plan for programs has its stages, and each build's part without a claim") {
  Shed place;
  CHECK(place.run({"plan", "shed.purse", "--json"}) == 0);
  const auto json = nlohmann::ordered_json::parse(place.out);
  std::vector<std::string> keys;
  for (const auto& [key, value] : json.items()) keys.push_back(key);
  CHECK(keys == std::vector<std::string>{"report", "status", "exit_code", "purse", "currency",
                                         "cheapest_of_the_best", "value_want_days", "bound_want_days",
                                         "want_months", "work", "end", "from", "stages_in_all", "opening",
                                         "spent", "left", "stages", "builds"});
  CHECK(json["status"] == "proven");
  CHECK(json["stages"][0].dump() ==
        R"({"number":1,"payday":"2027-01-01","bench":"2027-01-04","in":"50.00","spent":"90.00",)"
        R"("spent_by":{"bike":"90.00","van":"0.00"},"left":"60.00","floor":"0.00",)"
        R"("minutes":{"used":240,"limit":480}})");
  CHECK(json["builds"][1]["id"] == "van");
  CHECK(json["builds"][1]["stages"][1]["jobs"][0]["id"] == "sleep");
  CHECK_FALSE(json["builds"][1].contains("bound_want_days"));
  CHECK(place.run({"shopping", "shed.purse"}) == 0);
}

TEST_CASE("a purse that does not pay for its musts ends with 3") {
  Shed place;
  BuildText van;
  van.jobs = R"("sleep": {"name": "Fit the bed", "must": true, "hours": 6, "cost": 700})";
  place.put("van.build", van.text());
  CHECK(place.run({"plan", "shed.purse"}) == 3);
  CHECK(place.err.find("test build: Fit the bed") != std::string::npos);
}

TEST_CASE("a purse has a workbook a build, whose counted cash is the purse's when it is recorded") {
  Shed place;
  CHECK(place.run({"sheet", "shed.purse"}) == 0);
  CHECK(place.out == "Wrote shed-bike.xlsx.\nWrote shed-van.xlsx.\nWrote shed.overview.xlsx.\n");
  CHECK(place.err == "");
  purse::Reading reading = purse::read_file("shed.purse");
  purse::Planning planning = purse::plan(*reading.purse);
  const auto& outcome = std::get<purse::Outcome>(planning);
  TypedWorkbook book(outcome.shares[1].outcome);
  book.save("same.xlsx");
  CHECK(place.contents("same.xlsx") == place.contents("shed-van.xlsx"));
  const auto left = [&](const std::string& key) {
    return std::get<sheets::Money>(book.cell("Overview", key, "Left").value).minor();
  };
  for (const purse::StageSum& stage : outcome.stages)
    CHECK(left("stage:" + std::to_string(stage.number)) == stage.cash_after.minor());
  book.type("Overview", "plan:opening", "Check", sheets::Money::of_minor(12345));
  book.type("Overview", "plan:allowance", "Check", budgets::make_date(2027, 1, 2));
  book.save("shed-van.xlsx");
  // What is typed is not written over, and nothing of the purse is written.
  place.put("shed-bike.xlsx", "");
  CHECK(place.run({"sheet", "shed.purse"}) == 2);
  CHECK(place.told("shed-van.xlsx: Overview M4: counted 123.45 EUR of cash\n"));
  CHECK(place.told("  fettlefund record van.build --from shed-van.xlsx\n"));
  CHECK(place.contents("shed-bike.xlsx").empty());
  CHECK(place.run({"record", "van.build", "--from", "shed-van.xlsx"}) == 0);
  CHECK(place.run({"sheet", "shed.purse"}) == 0);
  CHECK(place.out.starts_with("As of 2027-01-02 (last entry of the records)\n"));
  CHECK(place.run({"plan", "shed.purse", "--brief"}) == 0);
  CHECK(place.told("cash on 2027-01-02\n123.45,"));
}
