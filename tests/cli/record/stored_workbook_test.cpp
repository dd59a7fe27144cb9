#include "tests/cli/support/ran.hpp"
#include "tests/cli/support/workplace.hpp"

#include <doctest/doctest.h>

using fettlefund::test::RecordPlace;

namespace {

/// A workbook that was written, typed into and kept: what later versions change may not lose what it tells.
/// Written by the version that first let a name and the day of a state be typed (record format 2), typed into
/// and saved by openpyxl, not by Fettlefund. All of it is invented.
struct Kept : RecordPlace {
  Kept() {
    for (const char* name : {"bike.build", "bike.record", "bike.xlsx"})
      put(name, fettlefund::test::golden_text(std::string("workbook/") + name));
  }
};

}  // namespace

TEST_CASE("a workbook that an earlier version wrote is read back as it was meant") {
  Kept place;
  const std::string before = place.contents("bike.record");
  const std::vector<std::string> hand_back = {"record",    "bike.build", "--from",
                                              "bike.xlsx", "--on",       "2027-02-05"};
  CHECK(place.run(hand_back) == 0);
  CHECK(place.err == "");
  CHECK(place.out ==
        "   4  2027-01-03  seat@1 arrives on 2027-01-03, by Anna\n"
        "   5  2027-02-01  bought lamp@2, 1 pack, 58.50 EUR, by Anna\n"
        "   6  2027-02-01  bought besides:be5dfaa2:ae8632d0, 1 pack, 3.20 EUR, by Anna\n"
        "   7  2027-02-05  remark about besides:be5dfaa2:ae8632d0: Chain oil, by Anna\n"
        "   8  2027-02-04  begun light, 0 h 30 min so far this time, by Anna\n"
        "   9  2027-02-05  counted 82.75 EUR of cash, by Anna\n"
        "Recorded in bike.record.\n");
  CHECK(place.contents("bike.record").starts_with(before));
  CHECK(place.run(hand_back) == 0);
  CHECK(place.told("Nothing new to record in bike.xlsx.\n"));
}

TEST_CASE("a kept workbook in which things are typed is not written over") {
  Kept place;
  CHECK(place.run({"sheet", "bike.build"}) == 2);
  CHECK(place.told("bike.xlsx: Shopping I9: bought lamp@2, 1 pack, 58.50 EUR\n"));
  CHECK(place.contents("bike.xlsx") == fettlefund::test::golden_text("workbook/bike.xlsx"));
}
