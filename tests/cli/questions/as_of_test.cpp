#include "tests/cli/support/lamp_and_seat.hpp"
#include "tests/cli/support/workplace.hpp"

#include <doctest/doctest.h>

using fettlefund::test::BuildText;
using fettlefund::test::lamp_and_seat;
using fettlefund::test::RecordPlace;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
struct Place : RecordPlace {
  Place() {
    BuildText text = lamp_and_seat(190);
    text.suppliers = R"("shop": {"name": "Corner Shop"})";
    put("bike.build", text.text());
  }

  /// The commands that plan what is left, with what they need besides the build.
  static std::vector<std::vector<std::string>> planning_commands() {
    return {{"plan", "bike.build"},
            {"plan", "bike.build", "--brief"},
            {"plan", "bike.build", "--stage", "3"},
            {"why", "bike.build", "light"},
            {"compare", "bike.build", "--with", "amount=120"},
            {"compare", "bike.build", "--amounts", "100..120/10"},
            {"risk", "bike.build", "--samples", "100"},
            {"sheet", "bike.build"},
            {"page", "bike.build"},
            {"shopping", "bike.build"},
            {"calendar", "bike.build"},
            {"picture", "bike.build"}};
  }

  std::string first_line() const { return out.substr(0, out.find('\n')); }

  void check_all(const std::vector<std::string>& with, const std::string& line) {
    for (std::vector<std::string> words : planning_commands()) {
      words.insert(words.end(), with.begin(), with.end());
      CAPTURE(words.front());
      CHECK(run(words) == 0);
      CHECK(first_line() == line);
    }
  }
};

}  // namespace

TEST_CASE("every command that plans says in its first line as of which day") {
  Place place;
  place.record({"bought", "seat", "--on", "2027-02-01"});
  place.record({"fitted", "sit", "--on", "2027-02-04"});
  place.check_all({}, "As of 2027-02-04 (last entry of the record)");
  CHECK(place.err == "");
  place.check_all({"--from", "2027-02-20"}, "As of 2027-02-20 (asked for)");
  place.run({"year", "bike.build"});
  CHECK(place.first_line() == "As of 2027-02-04 (last entry of the record)");
  place.run({"year", "bike.build", "--until", "2027-02-01"});
  CHECK(place.first_line() == "As of 2027-02-01 (asked for; 1 later entry of the record is left out)");
}

TEST_CASE("a day before entries of the record tells how many are left out") {
  Place place;
  place.record({"bought", "seat", "--on", "2027-02-01"});
  place.record({"remark", "one", "--on", "2027-02-05"});
  place.record({"remark", "two", "--on", "2027-02-06"});
  place.run({"plan", "bike.build", "--from", "2027-02-02"});
  CHECK(place.first_line() == "As of 2027-02-02 (asked for; 2 later entries of the record are left out)");
}

TEST_CASE("with nothing recorded and no day asked for no command speaks of a day") {
  Place place;
  for (const auto& words : Place::planning_commands()) {
    CAPTURE(words.front());
    CHECK(place.run(words) == 0);
    CHECK(place.out.find("As of") == std::string::npos);
  }
  CHECK(place.run({"year", "bike.build"}) == 0);
  CHECK(place.out.find("As of") == std::string::npos);
  place.record({"remark", "one", "--on", "2027-02-01"});
  CHECK(place.run({"plan", "bike.build", "--no-log"}) == 0);
  CHECK(place.out.find("As of") == std::string::npos);
}

TEST_CASE("an output to the screen stays a whole file, and the day is told beside it") {
  Place place;
  place.record({"remark", "one", "--on", "2027-02-01"});
  CHECK(place.run({"shopping", "bike.build", "-o", "-"}) == 0);
  CHECK(place.out.find("As of") == std::string::npos);
  CHECK(place.err == "As of 2027-02-01 (last entry of the record)\n");
}

TEST_CASE("every report for programs has the day as its key from") {
  Place place;
  const std::vector<std::vector<std::string>> all{{"plan", "bike.build"},
                                                  {"why", "bike.build", "light"},
                                                  {"compare", "bike.build", "--with", "amount=120"},
                                                  {"compare", "bike.build", "--amounts", "100..120/10"},
                                                  {"risk", "bike.build", "--samples", "100"}};
  const auto every = [&](const std::string& expected) {
    for (std::vector<std::string> words : all) {
      words.push_back("--json");
      CAPTURE(words.front());
      CHECK(place.run(words) == 0);
      CHECK(place.out.find("\"from\": " + expected) != std::string::npos);
      CHECK(place.out.find("As of") == std::string::npos);
    }
  };
  every("null");
  place.record({"remark", "one", "--on", "2027-02-02"});
  every("\"2027-02-02\"");
}

TEST_CASE("what cannot be is told as of its day too") {
  Place place;
  BuildText text;
  text.jobs = R"("light": {"name": "Fit the lamp", "must": true, "hours": 1, "cost": 900})";
  Place::put("bike.build", text.text());
  CHECK(place.run({"plan", "bike.build", "--from", "2027-02-02"}) == 3);
  CHECK(place.err.starts_with("As of 2027-02-02 (asked for)\nNo plan keeps all the demands"));
  CHECK(place.run({"plan", "bike.build", "--from", "2027-02-02", "--json"}) == 3);
  CHECK(place.out.find("\"from\": \"2027-02-02\"") != std::string::npos);
}

TEST_CASE("what is agreed on a day is what a plan from that day shows") {
  Place place;
  place.record({"bought", "seat", "--on", "2027-01-02"});
  CHECK(place.run({"plan", "bike.build", "--from", "2027-02-06", "--json"}) == 0);
  CHECK(place.out.find("\"bench\": \"2027-03-04\"") != std::string::npos);
  CHECK(place.record({"agreed", "--on", "2027-02-06"}) == 0);
  CHECK(place.out ==
        "Agreed is the plan from 2027-02-06 on, as `plan bike.build --from 2027-02-06` shows it.\n"
        "   2  2027-02-06  agreed 2 jobs: light on 2027-03-04, sit on 2027-03-04\n"
        "Recorded in bike.record.\n");
  CHECK(place.run({"plan", "bike.build"}) == 0);
  CHECK(place.first_line() == "As of 2027-02-06 (last entry of the record)");
  CHECK(place.out.find("2 jobs agreed on 2027-02-06 stay where they are") != std::string::npos);
}
