#include "lib/progress/rest.hpp"

#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

// What is left of a build when jobs are done: the machine as it is then, and what can no longer be done.

using namespace fettlefund;
using planning::Outcome;
using planning::Standing;
using test::BuildText;
using test::day;
using test::replanned;
using test::stage_of;
using test::stood;

namespace {

/// One job that renews two parts of 1 January 2020, `first` and `second` months of life.
int months_left_by_kit(int first, int second) {
  BuildText text;
  text.jobs = R"("kit": {"name": "Renew both", "hours": 1}, "wax": {"name": "Wax", "want": 1, "hours": 1})";
  text.more = R"(, "fitted": {"a": {"name": "A", "since": "2020-01-01", "life_months": )" +
              std::to_string(first) + R"(, "replaced_by": ["kit"]},
    "b": {"name": "B", "since": "2020-01-01", "life_months": )" +
              std::to_string(second) + R"(, "replaced_by": ["kit"]}})";
  const build::Build build = text.read();
  const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"kit"}}}, "2027-01-05");
  REQUIRE(standing.build->fitted.size() == 1);
  return standing.build->fitted[0].life_months.value_or(0);
}

std::vector<std::string> ids_fitted(const Standing& standing) {
  std::vector<std::string> ids;
  for (const build::Fitted& one : standing.build->fitted) ids.push_back(one.id);
  return ids;
}

}  // namespace

TEST_CASE("what renews several parts lasts as long as the one of them that lasts least") {
  CHECK(months_left_by_kit(24, 48) == 24);
  CHECK(months_left_by_kit(48, 24) == 24);
}

TEST_CASE("what is fitted and taken off again on one day is not on the machine") {
  BuildText text;
  text.jobs =
      R"("trial": {"name": "Trial bars", "want": 1, "hours": 1, "mates": {"bar": "28"}, "replaced_by": ["bars"]},
    "bars": {"name": "Bars", "want": 4, "hours": 1, "mates": {"bar": "22"}}, "wax": {"name": "Wax", "want": 1, "hours": 1})";
  const build::Build build = text.read();
  const Standing standing =
      stood(build, {{day("2027-01-04"), log::Fitted{"trial"}}, {day("2027-01-04"), log::Fitted{"bars"}}},
            "2027-01-05");
  CHECK(ids_fitted(standing) == std::vector<std::string>{"bars"});
}

TEST_CASE("of two parts that do not agree the one that was fitted last counts") {
  BuildText text;
  text.jobs =
      R"("a-chain": {"name": "Chain", "want": 4, "hours": 1, "mates": {"chain": "520"}, "replaced_by": ["back"]},
    "b-front": {"name": "Front sprocket", "want": 4, "hours": 1, "mates": {"chain": "525"}, "replaced_by": ["back"]},
    "back": {"name": "All as before", "want": 0, "hours": 1}})";
  text.jobs.pop_back();
  const build::Build build = text.read();
  const auto told = [&](const std::string& chain, const std::string& front) {
    std::vector<std::string> notes =
        stood(build, {{day(chain), log::Fitted{"a-chain"}}, {day(front), log::Fitted{"b-front"}}},
              "2027-01-05")
            .notes;
    std::erase_if(notes,
                  [](const std::string& note) { return note.find("do not agree") == std::string::npos; });
    return notes;
  };
  CHECK(told("2027-01-03", "2027-01-04") ==
        std::vector<std::string>{
            "Front sprocket (chain 525) and Chain (chain 520) are on the machine and do not "
            "agree; All as before resolves it: it has to be done, and is wanted 10."});
  CHECK(told("2027-01-04", "2027-01-03") ==
        std::vector<std::string>{
            "Chain (chain 520) and Front sprocket (chain 525) are on the machine and do not "
            "agree; All as before resolves it: it has to be done, and is wanted 10."});
}

TEST_CASE("a job that is closed closes what it is done with whichever of the two says so") {
  for (const char* with :
       {R"("cases": {"name": "Hard cases", "want": 4, "hours": 1, "one_of": "luggage", "with": ["locks"]},
    "locks": {"name": "Locks", "want": 2, "hours": 1})",
        R"("cases": {"name": "Hard cases", "want": 4, "hours": 1, "one_of": "luggage"},
    "locks": {"name": "Locks", "want": 2, "hours": 1, "with": ["cases"]})"}) {
    BuildText text;
    text.jobs = std::string(R"("bags": {"name": "Soft bags", "want": 3, "hours": 1, "one_of": "luggage"},
    "wax": {"name": "Wax", "want": 1, "hours": 1}, )") +
                with;
    const build::Build build = text.read();
    const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"bags"}}}, "2027-01-05");
    REQUIRE(standing.closed.size() == 2);
    CHECK(standing.closed[1].job == "locks");
    CHECK(standing.closed[1].reason == "it is done together with Hard cases, which cannot be done any more");
  }
}

TEST_CASE("a job whose day is the first bench date left can be done on it") {
  BuildText text;
  text.jobs = R"("wax": {"name": "Wax", "want": 3, "by": "2027-02-04", "hours": 1})";
  const build::Build build = text.read();
  const Standing standing = stood(build, {}, "2027-01-05");
  CHECK(standing.closed.empty());
  CHECK(stage_of(replanned(standing), "wax") == 2);
}

TEST_CASE("the teeth that a job fitted are the teeth there are now") {
  BuildText text;
  text.jobs = R"("front": {"name": "Front sprocket", "want": 3, "hours": 1},
    "rear": {"name": "Rear sprocket", "want": 3, "hours": 1})";
  text.more = R"(, "drive": {"front": {"before": 15, "after": 14, "job": "front"},
    "rear": {"before": 45, "after": 47, "job": "rear"}, "chain": {"designation": "520", "links": 110},
    "centre": {"now_mm": 632, "min_mm": 615, "max_mm": 650}})";
  const build::Build build = text.read();
  const Standing standing = stood(build, {{day("2027-01-04"), log::Fitted{"front"}}}, "2027-01-05");
  const build::DriveTrain& drive = standing.build->drive.value();
  CHECK(drive.front.teeth_before == 14);
  CHECK(drive.front.job == "");
  CHECK(drive.rear.teeth_before == 45);
  CHECK(drive.rear.job == "rear");
}
