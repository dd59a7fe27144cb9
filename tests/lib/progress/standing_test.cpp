#include "lib/progress/replan.hpp"
#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

// What stands on a day of money, bench time, goods and agreements.

using namespace fettlefund;
using planning::Outcome;
using planning::Standing;
using test::BuildText;
using test::cents;
using test::day;
using test::replanned;
using test::stage_of;
using test::stood;

namespace {

/// Paydays on the first of January to April 2027, 100.00 each and 100.00 in hand; bench on the fourth.
BuildText lamp_alone() {
  BuildText text;
  text.articles =
      R"("lamp": {"name": "Lamp", "kind": "part", "offers": [{"supplier": "shop", "price": 60}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 6, "hours": 2})";
  return text;
}

std::vector<std::string> notes_with(const Standing& standing, const std::string& words) {
  std::vector<std::string> found;
  for (const std::string& note : standing.notes)
    if (note.find(words) != std::string::npos) found.push_back(note);
  return found;
}

std::vector<std::string> ids_agreed(const Standing& standing) {
  std::vector<std::string> ids;
  for (const build::Agreed& agreed : standing.build->agreement.jobs) ids.push_back(agreed.job);
  return ids;
}

}  // namespace

TEST_CASE("what came in up to a payday and was recorded on it has that payday once") {
  const build::Build build = lamp_alone().read();
  const planning::Brought recorded{day("2027-01-01"), cents(20000)};
  CHECK(planning::brought_on(build, recorded, day("2027-01-01")) == cents(20000));
  CHECK(planning::brought_on(build, recorded, day("2027-01-31")) == cents(20000));
  CHECK(planning::brought_on(build, recorded, day("2027-02-01")) == cents(30000));
}

TEST_CASE("dated money of the day itself is in the cash and comes no second time") {
  BuildText text = lamp_alone();
  text.money_more = R"(, "extras": [{"date": "2027-01-10", "amount": 50, "what": "a mirror sold"}])";
  const build::Build build = text.read();
  const Standing standing = stood(build, {}, "2027-01-10");
  CHECK(standing.build->money.opening == cents(10000 + 10000 + 5000));
  CHECK(standing.build->money.extras.empty());
  const Outcome outcome = replanned(standing);
  CHECK(outcome.left == cents(10000 + 4 * 10000 + 5000 - 6000));
}

TEST_CASE("bench time on the payday itself is of the stage that begins with it") {
  const build::Build build = lamp_alone().read();
  const Standing standing = stood(build, {{day("2027-01-01"), log::Fitted{"light", 150}}}, "2027-01-02");
  CHECK(replanned(standing).stages[0].minutes_limit == 600 - 150);
}

TEST_CASE("what went into a job that is done since counts once as its whole time") {
  const build::Build build = lamp_alone().read();
  const Standing standing = stood(
      build,
      {{day("2027-01-02"), log::Begun{"light", 45, 75}}, {day("2027-01-03"), log::Fitted{"light", 110}}},
      "2027-01-04");
  CHECK(replanned(standing).stages[0].minutes_limit == 600 - 110);
}

TEST_CASE("the rest of a deposit that is overdue goes out on the next day") {
  const build::Build build = lamp_alone().read();
  const std::vector<log::NewEntry> events{
      {day("2027-01-01"),
       log::Bought{"lamp@1", 1, cents(2000), day("2027-03-01"), {}, cents(4000), day("2027-01-10")}}};
  const Standing standing = stood(build, events, "2027-01-20");
  REQUIRE(standing.build->money.extras.size() == 1);
  CHECK(standing.build->money.extras[0].date == day("2027-01-21"));
  CHECK(standing.build->money.extras[0].amount == cents(-4000));
  CHECK(notes_with(standing, "still to be paid") ==
        std::vector<std::string>{"Of lamp@1, 40.00 EUR are still to be paid, on 2027-01-21."});
  // before its day it waits for that
  CHECK(stood(build, events, "2027-01-05").build->money.extras[0].date == day("2027-01-10"));
}

TEST_CASE("nothing is still to be paid for what will never come") {
  const build::Build build = lamp_alone().read();
  const Standing standing =
      stood(build,
            {{day("2027-01-01"),
              log::Bought{"lamp@1", 1, cents(2000), day("2027-03-01"), {}, cents(4000), day("2027-03-01")}},
             {day("2027-01-02"), log::Gone{"lamp", 1, "never-came"}}},
            "2027-01-03");
  CHECK(standing.build->money.extras.empty());
  CHECK(notes_with(standing, "still to be paid").empty());
  CHECK(stage_of(replanned(standing), "light") == 1);  // another is bought
}

TEST_CASE("a hire paid ahead is had in the stage that it was paid for") {
  BuildText text;
  text.opening = "0.00";
  text.amount = "30.00";
  text.articles = R"("press": {"name": "Press", "kind": "tool", "hire": 30})";
  text.jobs = R"("push": {"name": "Push it", "want": 5, "hours": 1, "tools": ["press"]})";
  const build::Build build = text.read();
  const Standing standing =
      stood(build, {{day("2027-01-01"), log::Bought{"hire:press@2", 1, cents(3000)}}}, "2027-01-02");
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "push") == 2);
  CHECK(outcome.spent == cents(0));
}

TEST_CASE("a consumable that is on its way may be bought again to be had at once") {
  BuildText text;
  text.articles =
      R"("glue": {"name": "Glue", "kind": "consumable", "offers": [{"supplier": "shop", "price": 4}]})";
  text.jobs = R"("stick": {"name": "Stick it", "want": 5, "hours": 1, "uses": [{"article": "glue"}]})";
  const build::Build build = text.read();
  const Standing standing = stood(
      build, {{day("2027-01-01"), log::Bought{"glue@1", 1, cents(400), day("2027-02-20")}}}, "2027-01-02");
  CHECK(notes_with(standing, "on its way").empty());
  const Outcome outcome = replanned(standing);
  CHECK(stage_of(outcome, "stick") == 1);
  CHECK(outcome.spent == cents(400));
}

TEST_CASE("of the jobs agreed those that are fitted are held no more") {
  const build::Build build = lamp_alone().read();
  const Standing standing =
      stood(build,
            {{day("2026-12-30"), log::AgreedPlan{{{"light", day("2027-01-04")}, {"sit", day("2027-02-04")}}}},
             {day("2027-01-02"), log::Fitted{"light"}}},
            "2027-01-03", 61);
  CHECK(ids_agreed(standing) == std::vector<std::string>{"sit"});
  CHECK(notes_with(standing, "agreed on") ==
        std::vector<std::string>{
            "1 job agreed on 2026-12-30 stays where it is unless moving one gains more than "
            "2.0 want-months."});
}
