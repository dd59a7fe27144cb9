#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;

namespace {

planning::Conflict conflict(const BuildText& text) {
  const build::Build build = text.read();
  REQUIRE_FALSE(build::has_errors(planning::check(build)));
  const planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Conflict>(planning));
  return std::get<planning::Conflict>(planning);
}

std::string lines(const std::vector<std::string>& sentences) {
  std::string all;
  for (const std::string& sentence : sentences) all += sentence + "\n";
  return all;
}

}  // namespace

TEST_CASE("musts short of money are told with dates, amounts and what releases them") {
  BuildText text{.jobs =
                     R"("a": {"name": "tyres", "must": true, "by": "2027-02-04", "hours": 1, "cost": 200.00},
                            "b": {"name": "brakes", "must": true, "by": "2027-02-28", "hours": 1, "cost": 112.50},
                            "c": {"name": "bell", "want": 5, "hours": 1, "cost": 1.00})"};
  const planning::Conflict told = conflict(text);
  CHECK(lines(told.jobs) == "a\nb\n");
  CHECK(lines(told.sentences) ==
        "These have to be done and cannot all be: tyres (by 2027-02-04) and brakes (by 2027-02-28).\n"
        "Together they cost at least 312.50 EUR with what has to come off or be done first, delivery not "
        "counted; at most 300.00 EUR can be spent up to stage 2 (bench 2027-02-04).\n"
        "The money is short by 12.50 EUR.\n"
        "Released by 12.50 EUR more at the start.\n"
        "Released by a later date: the day 2027-03-04 (stage 3) is late enough.\n");
}

TEST_CASE("a must that money alone can never meet names no date") {
  BuildText text{.jobs = R"("a": {"name": "engine", "must": true, "hours": 1, "cost": 600.00})"};
  const planning::Conflict told = conflict(text);
  CHECK(lines(told.sentences) ==
        "This has to be done and cannot be: engine.\n"
        "It costs at least 600.00 EUR with what has to come off or be done first, delivery not counted; at "
        "most 500.00 EUR can be spent up to stage 4 (bench 2027-04-04).\n"
        "The money is short by 100.00 EUR.\n"
        "Released by 100.00 EUR more at the start.\n");
}

TEST_CASE("musts short of hours are told with the hours there are") {
  BuildText text{.jobs = R"("a": {"name": "a", "must": true, "by": "2027-01-31", "hours": 6},
                            "b": {"name": "b", "must": true, "by": "2027-01-31", "hours": 6})"};
  const planning::Conflict told = conflict(text);
  CHECK(lines(told.sentences) ==
        "These have to be done and cannot all be: a (by 2027-01-31) and b (by 2027-01-31).\n"
        "Together they take at least 12 h on the bench; the stages up to stage 1 (bench 2027-01-04) have "
        "10 h, at most 10 h in one stage.\n"
        "Released by more hours on the bench, where they are short.\n"
        "Released by a later date: the day 2027-02-04 (stage 2) is late enough.\n");
}

TEST_CASE("cash that falls below the keep-back with nothing bought is told by its payday") {
  BuildText text{
      .opening = "0.00", .keep_back = "150.00", .jobs = R"("a": {"name": "a", "want": 1, "hours": 1})"};
  const planning::Conflict told = conflict(text);
  CHECK(told.jobs.empty());
  REQUIRE(told.sentences.size() == 2);
  CHECK(told.sentences[0] ==
        "Even with nothing bought, cash after the payday of 2027-01-01 is 100.00 EUR; 150.00 EUR must be "
        "left for the "
        "keep-back and the bills before the next payday.");
  CHECK(told.sentences[1] == "The money is short by 50.00 EUR.");
}
