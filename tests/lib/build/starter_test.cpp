#include "lib/build/starter.hpp"

#include <algorithm>

#include "lib/check/hints.hpp"
#include "lib/goods/forgotten.hpp"
#include "lib/outcome/plan.hpp"
#include "lib/trade/kinds.hpp"
#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;

namespace {

const Date first_day = fettlefund::budgets::make_date(2027, 1, 1);

std::string name_read_back(const std::string& name) {
  const Reading reading = read(starter_build(name, "motorcycle", first_day), "starter.build");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  return reading.build->name;
}

}  // namespace

TEST_CASE("the starter of each trade reads without a remark and is small enough to read in two minutes") {
  for (const std::string& trade : fettlefund::trade::trades()) {
    CAPTURE(trade);
    const std::string text = starter_build("First light", trade, first_day);
    const Reading reading = read(text, "starter.build");
    CHECK(told(reading) == "");
    REQUIRE(reading.build.has_value());
    const Build& build = *reading.build;
    CHECK(build.name == "First light");
    CHECK(build.jobs.size() == 4);
    CHECK(build.removals.size() == 2);
    CHECK(build.articles.size() <= 12);
    CHECK(build.suppliers.size() == 2);
    CHECK(std::count(text.begin(), text.end(), '\n') <= 150);
    for (const Job& job : build.jobs) CHECK_MESSAGE(!job.kind.empty(), job.id);
  }
}

TEST_CASE(
    "nothing in a starter is worth a warning or a hint, and each of its jobs is reminded of something") {
  for (const std::string& trade : fettlefund::trade::trades()) {
    CAPTURE(trade);
    const Build build = *read(starter_build("x", trade, first_day), "starter.build").build;
    std::string said;
    for (const Diagnostic& one : fettlefund::planning::check(build)) said += to_text(one) + "\n";
    for (const Diagnostic& one : fettlefund::planning::hints(build)) said += to_text(one) + "\n";
    CHECK(said == "");
    bool bought = false;
    for (std::size_t j = 0; j < build.jobs.size(); ++j) {
      const auto needs = fettlefund::goods::forgotten_of_job(build, static_cast<int>(j));
      CHECK_MESSAGE(!needs.empty(), build.jobs[j].id);
      for (const auto& need : needs) bought = bought || need.reminder.bought;
    }
    CHECK(bought);
  }
}

TEST_CASE("a starter begins on the day it is written whatever day that is") {
  for (const std::string& trade : fettlefund::trade::trades()) {
    for (int days = 0; days < 400; days += 7) {
      const auto day = first_day + days;
      const Reading reading = read(starter_build("x", trade, day), "starter.build");
      REQUIRE_MESSAGE(reading.build.has_value(), told(reading));
      CHECK(fettlefund::budgets::paydays(reading.build->money.rule, 1).front() >= day);
      CHECK(fettlefund::planning::check(*reading.build).empty());
    }
  }
}

TEST_CASE("there is no starter of an unknown trade") { CHECK(starter_build("x", "tram", first_day) == ""); }

TEST_CASE("the name of a starter build is written so that it reads back") {
  CHECK(name_read_back("A \"fine\" \\ build // not a comment") == "A \"fine\" \\ build // not a comment");
  CHECK(name_read_back("Caf\u00e9 racer \U0001F527") == "Caf\u00e9 racer \U0001F527");
  CHECK(name_read_back("") == "My build");
  CHECK(name_read_back("   ") == "My build");
  CHECK(name_read_back("two\nlines\x1b[31m") == "two?lines?[31m");
  CHECK(name_read_back("bad \xff byte") == "bad ? byte");
  CHECK(name_read_back("c1 \u009b") == "c1 ?");
  CHECK(name_read_back(std::string(300, 'x')) == std::string(200, 'x'));
}

TEST_CASE("a starter build reads whatever its name") {
  rc::check("any name", [](const std::string& name) {
    const Reading reading = read(starter_build(name, "motorcycle", first_day), "starter.build");
    RC_ASSERT(reading.build.has_value());
    RC_ASSERT(reading.diagnostics.empty());
  });
}
