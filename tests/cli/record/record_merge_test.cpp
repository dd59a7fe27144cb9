#include "tests/cli/support/lamp_and_seat.hpp"
#include "tests/cli/support/workplace.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::lamp_and_seat;
using fettlefund::test::RecordPlace;
namespace fs = std::filesystem;

namespace {

/// Ann keeps bike.build and its record, Bob a copy of both in bob.build; the purchase of the seat is common.
struct TwoPeople : RecordPlace {
  TwoPeople() {
    BuildText text = lamp_and_seat(90);
    put("bike.build", text.text());
    put("bob.build", text.text());
    record({"bought", "seat", "--on", "2027-01-01"});
    fs::copy_file("bike.record", "bob.record");
  }
  int bob(std::vector<std::string> words) {
    words.insert(words.begin(), {"record", "bob.build"});
    return run(words);
  }
  int merge(const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{"record", "bike.build", "--merge", "bob.record"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }
};

}  // namespace

TEST_CASE("two records of one build become one, and the one of before is kept") {
  TwoPeople place;
  place.record({"fitted", "sit", "--on", "2027-01-04"});
  const std::string before = place.contents("bike.record");
  place.bob({"bought", "lamp", "--on", "2027-01-03"});
  CHECK(place.merge({"--dry-run"}) == 0);
  CHECK(place.out ==
        "1 line of bob.record would be merged into bike.record.\n"
        "Entries have new numbers; `record FILE list` shows them.\n"
        "Workbooks written before go by other numbers: they are not recorded any more; write new "
        "ones.\nNothing was written.\n");
  CHECK(place.contents("bike.record") == before);
  CHECK(place.merge() == 0);
  CHECK(place.out ==
        "1 line of bob.record is merged into bike.record.\n"
        "Entries have new numbers; `record FILE list` shows them.\n"
        "Workbooks written before go by other numbers: they are not recorded any more; write new ones.\n"
        "The record as it was is kept in bike.old-1.record.\n");
  CHECK(place.contents("bike.old-1.record") == before);
  place.record({"list"});
  CHECK(place.out ==
        "   1  2027-01-01  bought seat@1, 1 pack, 90.00 EUR\n"
        "   2  2027-01-03  bought lamp@1, 1 pack, 60.00 EUR\n"
        "   3  2027-01-04  fitted sit\n");
  const std::string merged = place.contents("bike.record");
  CHECK(place.merge() == 0);
  CHECK(place.out == "Nothing of bob.record is new.\n");
  CHECK(place.contents("bike.record") == merged);
  CHECK(place.run({"record", "bob.build", "--merge", "bike.record"}) == 0);
  CHECK(place.contents("bob.record") == merged);
}

TEST_CASE("a workbook of before the merge is not taken for one of after it") {
  TwoPeople place;
  CHECK(place.run({"sheet", "bike.build"}) == 0);
  place.record({"fitted", "sit", "--on", "2027-01-04"});
  place.bob({"bought", "lamp", "--on", "2027-01-03"});
  CHECK(place.merge() == 0);
  CHECK(place.record({"--from", "bike.xlsx"}) == 2);
  CHECK(place.err.find("the workbook was planned with another log than the one beside the build file") !=
        std::string::npos);
  CHECK(place.run({"sheet", "bike.build", "--replace"}) == 0);
  CHECK(place.record({"--from", "bike.xlsx"}) == 0);
}

TEST_CASE("what two people recorded differently is shown with places and waits for a choice") {
  TwoPeople place;
  place.record({"bought", "lamp@1", "--paid", "58", "--on", "2027-01-03"});
  place.bob({"bought", "lamp@1", "--paid", "55.50", "--on", "2027-01-03"});
  const std::string before = place.contents("bike.record");
  CHECK(place.merge() == 2);
  CHECK(place.err ==
        "bike.record:3: 2027-01-03  bought lamp@1, 1 pack, 58.00 EUR\n"
        "bob.record:3: 2027-01-03  bought lamp@1, 1 pack, 55.50 EUR\n"
        "fettlefund: nothing is merged: bike.record and bob.record tell 1 thing differently; --settle mine, "
        "theirs "
        "or both says which counts\n");
  CHECK(place.contents("bike.record") == before);
  CHECK(place.merge({"--settle", "theirs"}) == 0);
  CHECK(place.out.starts_with(
      "1 line of bob.record is merged into bike.record.\n"
      "1 thing told differently is settled: theirs count, the other lines are undone.\n"));
  place.record({"list"});
  CHECK(place.out.find("58.00 EUR (undone)") != std::string::npos);
  CHECK(place.merge() == 0);
  CHECK(place.out == "Nothing of bob.record is new.\n");
}

TEST_CASE("a line that one takes back and the other corrects is not merged by any choice") {
  TwoPeople place;
  place.record({"undo", "1"});
  place.bob({"paid", "seat@1", "80"});
  CHECK(place.merge({"--settle", "mine"}) == 2);
  CHECK(place.err.find(
            "nothing is merged: bike.record and bob.record tell 1 thing differently; where one takes back "
            "what the other goes on with, undo one of the two first\n") != std::string::npos);
}

TEST_CASE("what is no record of this build is not merged into it") {
  TwoPeople place;
  CHECK(place.run({"record", "bike.build", "--merge", "bike.record"}) == 2);
  CHECK(place.err == "fettlefund: bike.record is the record of this build itself\n");
  CHECK(place.run({"record", "bike.build", "--merge", "none.record"}) == 2);
  CHECK(place.err == "fettlefund: none.record is no record, or an empty one\n");
  place.put("broken.record", "fettlefund-log\t1\tx\n");
  CHECK(place.run({"record", "bike.build", "--merge", "broken.record"}) == 2);
  std::string other = place.contents("bike.build");
  other.replace(other.find("test build"), 10, "other kind");
  place.put("other.build", other);
  place.run({"record", "other.build", "remark", "x"});
  CHECK(place.run({"record", "bike.build", "--merge", "other.record"}) == 2);
  CHECK(
      place.err ==
      "fettlefund: other.record is the record of 'other kind', not of 'test build'; --sure merges it all the "
      "same\n");
  CHECK(place.merge({"--settle", "ours"}) == 2);
  CHECK(place.run({"record", "bike.build", "--settle", "mine"}) == 2);
  CHECK(place.run({"record", "bike.build", "--merge", "bob.record", "list"}) == 2);
}

TEST_CASE("a build without a record takes the other one as it is") {
  TwoPeople place;
  fs::remove("bike.record");
  CHECK(place.merge() == 0);
  CHECK(place.out == "1 line of bob.record is merged into bike.record.\n");
  CHECK(place.contents("bike.record").substr(60) == place.contents("bob.record").substr(60));
}
