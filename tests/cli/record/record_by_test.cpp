#include "tests/cli/support/handed_workbook.hpp"
#include "tests/cli/support/lamp_and_seat.hpp"
#include "tests/cli/support/workplace.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using test::lamp_and_seat;
using test::RecordPlace;
using test::TypedWorkbook;

namespace {

/// Paydays on the first of January to April 2027; stage 1 buys the seat, stage 2 the lamp.
struct Named : RecordPlace {
  Named() { put("bike.build", lamp_and_seat(150).text()); }

  std::string shown(TypedWorkbook& book, const std::string& sheet, const std::string& key,
                    const std::string& heading) {
    return std::get<std::string>(book.cell(sheet, key, heading).value);
  }
};

}  // namespace

TEST_CASE("who records it stands with every line and in the year") {
  Named place;
  CHECK(place.record({"bought", "seat@1", "--by", "Anna", "--on", "2027-01-01"}) == 0);
  CHECK(place.out ==
        "   1  2027-01-01  bought seat@1, 1 pack, 150.00 EUR, by Anna\nRecorded in bike.record.\n");
  CHECK(place.run({"record", "bike.build", "--by", "Ben", "fitted", "sit", "--on", "2027-01-04"}) == 0);
  CHECK(place.record({"bought", "lamp@2=58", "--on", "2027-02-01"}) == 0);
  CHECK(place.record({"list"}) == 0);
  CHECK(place.out ==
        "   1  2027-01-01  bought seat@1, 1 pack, 150.00 EUR, by Anna\n"
        "   2  2027-01-04  fitted sit, by Ben\n"
        "   3  2027-02-01  bought lamp@2, 1 pack, 58.00 EUR\n");
  CHECK(place.run({"year", "bike.build"}) == 0);
  CHECK(
      place.told("\nWho recorded it\n"
                 "                                          entries         paid\n"
                 "  Anna                                          1       150.00\n"
                 "  Ben                                           1         0.00\n"
                 "  Nobody named                                  1        58.00\n"));
  CHECK(place.run({"year", "bike.build", "--json"}) == 0);
  CHECK(nlohmann::json::parse(place.out)["who"].dump() ==
        R"([{"entries":1,"name":"Anna","paid":"150.00"},{"entries":1,"name":"Ben","paid":"0.00"},)"
        R"({"entries":1,"name":null,"paid":"58.00"}])");
}

TEST_CASE("a name that no line can hold is refused") {
  Named place;
  CHECK(place.record({"counted", "5", "--by", " ", "--on", "2027-01-01"}) == 2);
  CHECK(place.told("' ': expected a name that is not blank"));
  CHECK(place.record({"counted", "5", "--by", std::string(61, 'x'), "--on", "2027-01-01"}) == 2);
  CHECK(place.told("expected a name of at most 60 characters"));
}

TEST_CASE("the name typed once in a workbook stands with all that was typed in that copy") {
  Named place;
  TypedWorkbook book = test::handed_workbook("");
  book.type("Overview", "plan:left", "Check", std::string("Anna"));
  book.type("Shopping", "seat@1", "Tick", std::string("x"));
  book.type("Jobs", "job:sit@1", "Your remark", std::string("mind the rail"));
  book.save("typed.xlsx");
  const std::vector<std::string> hand_back = {"record", "bike.build", "--from", "typed.xlsx",
                                              "--by",   "Ben",        "--on",   "2027-01-04"};
  CHECK(place.run(hand_back) == 0);
  CHECK(place.out ==
        "   1  2027-01-04  bought seat@1, 1 pack, 150.00 EUR, by Anna\n"
        "   2  2027-01-04  remark about sit: mind the rail, by Anna\n"
        "Recorded in bike.record.\n");
  CHECK(place.err == "");
  // Another's copy of the same workbook that tells the same tells nothing new.
  book.type("Overview", "plan:left", "Check", std::string("Ben"));
  book.save("typed.xlsx");
  CHECK(place.run(hand_back) == 0);
  CHECK(place.told("Nothing new to record in typed.xlsx.\n"));
}

TEST_CASE("the next workbook shows who recorded what, and the name cell is empty again") {
  Named place;
  CHECK(place.record({"bought", "seat@1", "--by", "Anna", "--on", "2027-01-01"}) == 0);
  CHECK(place.record({"fitted", "sit", "--by", "Ben", "--on", "2027-01-04"}) == 0);
  TypedWorkbook book = test::handed_workbook("2027-01-05");
  CHECK(place.shown(book, "Shopping", "past:1:seat@1", "Remarks") == "bought; recorded by Anna");
  CHECK(place.shown(book, "Jobs", "past:2:sit", "Your remark") == "recorded by Ben");
  CHECK(std::holds_alternative<std::monostate>(book.cell("Overview", "plan:left", "Check").value));
}

TEST_CASE("a name with nothing typed beside it is told, and no name with line breaks is taken") {
  Named place;
  TypedWorkbook book = test::handed_workbook("");
  book.type("Overview", "plan:left", "Check", std::string("Anna"));
  book.save("typed.xlsx");
  CHECK(place.run({"record", "bike.build", "--from", "typed.xlsx", "--on", "2027-01-04"}) == 0);
  CHECK(place.err == "typed.xlsx: Overview M6: warning: a name, and nothing else that is typed\n");
  CHECK(place.told("Nothing new to record in typed.xlsx.\n"));
  book.type("Overview", "plan:left", "Check", std::string("Anna\nBen"));
  book.save("typed.xlsx");
  CHECK(place.run({"record", "bike.build", "--from", "typed.xlsx", "--on", "2027-01-04"}) == 2);
  CHECK(place.told("Overview M6: error: expected a name on one line, without control characters"));
}
