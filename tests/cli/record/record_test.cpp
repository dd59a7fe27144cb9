#include "tests/cli/support/workplace.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::RecordPlace;
namespace fs = std::filesystem;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
std::string two_jobs() {
  BuildText text;
  text.suppliers =
      R"("shop": {"name": "Corner Shop"}, "post": {"name": "Post Parts", "delivery": 5, "lead_days": 2})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "post", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 9, "hours": 2, "uses": [{"article": "seat"}]},
    "wax": {"name": "Wax it", "want": 0, "hours": 1, "after": ["sit"]})";
  return text.text();
}

struct RecordedBike : RecordPlace {
  RecordedBike() { put("bike.build", two_jobs()); }
};

}  // namespace

TEST_CASE("what is bought is recorded as planned unless told otherwise, and shown") {
  RecordedBike place;
  CHECK(place.record({"bought", "seat"}) == 0);
  CHECK(place.out ==
        "Delivery is not in it; when it is paid: record bike.build bought delivery:post@1\n"
        "   1  2027-01-02  bought seat@1, 1 pack, 150.00 EUR, arrives 2027-01-04\n"
        "Recorded in bike.record.\n");
  CHECK(place.record({"bought", "delivery:post@1", "--on", "2027-01-01"}) == 0);
  CHECK(place.out ==
        "   2  2027-01-01  bought delivery:post@1, 1 pack, 5.00 EUR\nRecorded in bike.record.\n");
  CHECK(place.record({"bought", "lamp", "--packs", "2", "--paid", "117.50", "--arrives", "2027-02-01"}) == 0);
  CHECK(place.out.starts_with("   3  2027-01-02  bought lamp@2, 2 packs, 117.50 EUR, arrives 2027-02-01\n"));
}

TEST_CASE("a plan goes on from what is recorded, says so in its first line, and can leave it out") {
  RecordedBike place;
  place.record({"bought", "seat", "--on", "2027-01-01"});
  CHECK(place.run({"plan", "bike.build"}) == 0);
  CHECK(place.err == "");
  CHECK(place.out.starts_with("As of 2027-01-01 (last entry of the record)\n"));
  CHECK(place.out.find("Stages 1 to 4 of 4, amounts in EUR, cash on 2027-01-01 50.00") != std::string::npos);
  CHECK(place.out.find("So far\n  - Planned from 2027-01-01 on, with 1 purchase and 0 jobs fitted") !=
        std::string::npos);
  CHECK(place.run({"plan", "bike.build", "--from", "2027-02-05"}) == 0);
  CHECK(place.out.find("Stages 3 to 4 of 4") != std::string::npos);
  CHECK(place.run({"plan", "bike.build", "--no-log"}) == 0);
  CHECK(place.err == "");
  CHECK(place.out.find("So far") == std::string::npos);
  CHECK(place.run({"plan", "bike.build", "--from", "2027-05-01"}) == 2);
  CHECK(place.err ==
        "fettlefund: every stage of bike.build is over on 2027-05-01; more stages in the build file's money "
        "would "
        "let it go on\n");
}

TEST_CASE("a key that is recorded is not taken twice by mistake") {
  RecordedBike place;
  place.record({"bought", "lamp"});
  CHECK(place.record({"bought", "lamp"}) == 2);
  CHECK(place.err.find(
            "is recorded as bought by entry 1; --again records more of it, `paid` another amount, `undo "
            "1` takes it back\n") != std::string::npos);
  CHECK(place.record({"bought", "lamp@2", "--again", "--paid", "59.00"}) == 0);
  CHECK(place.record({"paid", "lamp@2", "118.00"}) == 0);
  CHECK(place.out == "   3  2027-01-02  paid for lamp@2: 118.00 EUR\nRecorded in bike.record.\n");
}

TEST_CASE("unknown keys, jobs, amounts and actions are told with the nearest name and write nothing") {
  RecordedBike place;
  CHECK(place.record({"bought", "lamb@2"}) == 2);
  CHECK(place.err == "fettlefund: 'lamb@2' is not on the current shopping list; did you mean 'lamp@2'?\n");
  CHECK(place.record({"bought", "lamp@2", "--paid", "1,50"}) == 2);
  CHECK(place.err == "fettlefund: '1,50' is no amount of EUR like 129.95\n");
  CHECK(place.record({"bought", "lamp@2", "seat@1", "--paid", "10"}) == 2);
  CHECK(place.err == "fettlefund: --packs, --paid and --arrives tell of one key at a time\n");
  CHECK(place.record({"fitted", "lihgt"}) == 2);
  CHECK(place.err == "fettlefund: 'lihgt' is not a job of the build; did you mean 'light'?\n");
  CHECK(place.record({"paid", "lamp@2", "5"}) == 2);
  CHECK(place.err == "fettlefund: 'lamp@2' is not the key of something that is recorded as bought\n");
  CHECK(place.record({"counted", "5"}) == 2);
  CHECK(place.err ==
        "fettlefund: --on is required\n"
        "Usage: fettlefund record FILE counted [OPTIONS] AMOUNT\nTry 'fettlefund record FILE counted "
        "--help'.\n");
  CHECK(place.record({"remark", "hello", "--about", "seet@1"}) == 2);
  CHECK(place.err == "fettlefund: 'seet@1' is not a key or an id of the build\n");
  CHECK(place.record({"remark", "hello", "--about", "seet"}) == 2);
  CHECK(place.err == "fettlefund: 'seet' is not a key or an id of the build; did you mean 'seat'?\n");
  CHECK(place.record({"fited", "light"}) == 2);
  CHECK(place.err ==
        "fettlefund: unknown action 'fited'; did you mean 'fitted'?\n"
        "Usage: fettlefund record [OPTIONS] FILE [COMMAND]\nTry 'fettlefund record --help'.\n");
  CHECK(place.record({}) == 2);
  CHECK(place.record({"undo", "1"}) == 2);
  CHECK(place.err == "bike.record: error: found undid entry 1, expected an entry before it\n");
  CHECK_FALSE(fs::exists("bike.record"));
}

TEST_CASE("a dry run shows what would be recorded and writes nothing") {
  RecordedBike place;
  CHECK(place.record({"--dry-run", "fitted", "light", "--hours", "1.25"}) == 0);
  CHECK(place.out ==
        "      2027-01-02  fitted light, took 1 h 15 min\n"
        "Would be recorded in bike.record; nothing was written.\n");
  CHECK(place.record({"fitted", "light", "--dry-run"}) == 0);
  CHECK_FALSE(fs::exists("bike.record"));
}

TEST_CASE("jobs are fitted once, and one before its time with a warning") {
  RecordedBike place;
  CHECK(place.record({"fitted", "wax"}) == 0);
  CHECK(place.err == "warning: wax comes after sit, which is not recorded as fitted\n");
  CHECK(place.record({"fitted", "wax"}) == 2);
  CHECK(place.err.find("fettlefund: wax is recorded as fitted on 2027-01-02; undo that entry first\n") !=
        std::string::npos);
  CHECK(place.record({"undo", "1"}) == 0);
  CHECK(place.record({"fitted", "sit", "wax"}) == 0);
  CHECK(place.err == "");
}

TEST_CASE("the current plan is agreed and stays") {
  RecordedBike place;
  CHECK(place.record({"agreed"}) == 0);
  CHECK(place.out.starts_with(
      "Agreed is the plan from 2027-01-02 on, as `plan bike.build --from 2027-01-02` shows it.\n"
      "   1  2027-01-02  agreed 2 jobs: sit on 2027-01-04, light on 2027-02-04\n"));
  CHECK(place.run({"plan", "bike.build"}) == 0);
  CHECK(place.out.find("2 jobs agreed on 2027-01-02 stay where they are unless moving one") !=
        std::string::npos);
  CHECK(place.out.find("and no plan that leaves as") != std::string::npos);
  CHECK(place.run({"plan", "bike.build", "--keep", "x"}) == 2);
  CHECK(place.run({"plan", "bike.build", "--json", "--keep", "0.5"}) == 0);
  CHECK(place.out.find("\"agreed_kept\": 2") != std::string::npos);
}

TEST_CASE("the list shows every entry, undone ones as such") {
  RecordedBike place;
  CHECK(place.record({"list"}) == 0);
  CHECK(place.out == "Nothing is recorded yet.\n");
  place.record({"remark", "ask about the gasket", "--about", "seat"});
  place.record({"counted", "80", "--on", "2027-01-03"});
  place.record({"undo", "1"});
  place.record({"list"});
  CHECK(place.out ==
        "   1  2027-01-02  remark about seat: ask about the gasket (undone)\n"
        "   2  2027-01-03  counted 80.00 EUR of cash\n"
        "   3  2027-01-02  undid entry 1\n");
}

TEST_CASE("a torn end is told and repaired, a damaged log stops every command that needs it") {
  RecordedBike place;
  place.record({"remark", "one"});
  place.record({"remark", "two"});
  const std::string whole = place.contents("bike.record");
  place.put("bike.record", whole + "3\t20");
  CHECK(place.run({"plan", "bike.build"}) == 0);
  CHECK(place.err.starts_with("bike.record:4:1: warning: found 3?20, expected a whole line"));
  CHECK(place.contents("bike.record") == whole + "3\t20");  // reading changes nothing
  CHECK(place.record({"remark", "three"}) == 0);
  CHECK(place.out.starts_with(
      "The end of bike.record, which had been cut short while it was written, was cut off.\n"));
  std::string damaged = whole;
  damaged[whole.find("one")] = 'O';
  place.put("bike.record", damaged);
  for (const char* command : {"plan", "sheet", "shopping", "calendar"}) {
    CHECK(place.run({command, "bike.build"}) == 2);
    CHECK(place.err.starts_with("bike.record:2:1: error: found 1?2027-01-02?remark?text=One?"));
  }
  CHECK(place.record({"remark", "four"}) == 2);
  CHECK(place.contents("bike.record") == damaged);
  CHECK(place.run({"plan", "bike.build", "--no-log"}) == 0);
}

TEST_CASE("the build file is never touched and a build from standard input has no log") {
  RecordedBike place;
  place.record({"agreed"});
  place.record({"bought", "lamp"});
  CHECK(place.contents("bike.build") == two_jobs());
  CHECK(place.run({"record", "-", "remark", "x"}) == 2);
}

TEST_CASE("a log under its older name is read and appended to, and takes the new name when renamed") {
  RecordedBike place;
  place.record({"bought", "seat", "--on", "2027-01-01"});
  fs::rename("bike.record", "bike.log");
  CHECK(place.run({"plan", "bike.build"}) == 0);
  CHECK(place.out.starts_with("As of 2027-01-01 (last entry of the record)\n"));
  CHECK(place.record({"remark", "One"}) == 0);
  CHECK(place.out == "   2  2027-01-02  remark: One\nRecorded in bike.log.\n");
  CHECK_FALSE(fs::exists("bike.record"));
  fs::rename("bike.log", "bike.record");
  CHECK(place.record({"remark", "Two"}) == 0);
  CHECK(place.out == "   3  2027-01-02  remark: Two\nRecorded in bike.record.\n");
}

TEST_CASE("two logs of one build are never used without a word") {
  RecordedBike place;
  place.record({"bought", "seat", "--on", "2027-01-01"});
  fs::copy_file("bike.record", "bike.log");
  const std::string told =
      "fettlefund: bike.record and bike.log are both logs of this build; only one can hold its money: look "
      "at "
      "both, and move the one that does not count out of the folder\n";
  CHECK(place.run({"plan", "bike.build"}) == 2);
  CHECK(place.err == told);
  CHECK(place.record({"remark", "One"}) == 2);
  CHECK(place.err == told);
  CHECK(place.run({"plan", "bike.build", "--no-log"}) == 0);
  place.put("bike.log", "what some other program left here\n");
  CHECK(place.record({"remark", "One"}) == 0);
  CHECK(place.out.ends_with("Recorded in bike.record.\n"));
  CHECK(place.contents("bike.log") == "what some other program left here\n");
}
