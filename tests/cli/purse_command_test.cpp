#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::RecordPlace;
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
  for (const char* command : {"sheet", "risk", "year", "picture", "ids"}) {
    CHECK(place.run({command, "shed.purse"}) == 2);
    CHECK(place.err ==
          std::string("fettlefund: shed.purse is a purse; `") + command +
              "` takes one of its build files. A purse goes with check, plan, shopping, calendar, page\n");
  }
  CHECK(place.run({"record", "shed.purse", "list"}) == 2);
  CHECK(place.run({"plan", "shed.purse", "--json"}) == 2);
  CHECK(place.run({"plan", "shed.purse", "--from", "2027-02-01"}) == 2);
  CHECK(place.err == "fettlefund: --from: a purse is planned from its beginning\n");
  CHECK(place.run({"page", "shed.purse", "-o", "x.html"}) == 2);
}

TEST_CASE("a purse whose builds have records is refused rather than planned wrongly") {
  Shed place;
  CHECK(place.record({"in", "5", "sold", "--on", "2027-01-02"}) == 0);
  CHECK(place.run({"plan", "shed.purse"}) == 2);
  CHECK(place.err ==
        "fettlefund: bike.record tells what has happened to 'test build', and a purse counts no records: "
        "plan the "
        "build alone, or with --no-log the purse as if nothing had happened\n");
  CHECK(place.run({"plan", "shed.purse", "--no-log"}) == 0);
}

TEST_CASE("a purse that does not pay for its musts ends with 3") {
  Shed place;
  BuildText van;
  van.jobs = R"("sleep": {"name": "Fit the bed", "must": true, "hours": 6, "cost": 700})";
  place.put("van.build", van.text());
  CHECK(place.run({"plan", "shed.purse"}) == 3);
  CHECK(place.err.find("test build: Fit the bed") != std::string::npos);
}
