#include "lib/build/starter.hpp"

#include "tests/lib/build/support.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

using namespace fettlefund::build;
using namespace fettlefund::build::testing;

namespace {

std::string name_read_back(const std::string& name) {
  const Reading reading = read(starter_build(name), "starter.build");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  return reading.build->name;
}

}  // namespace

TEST_CASE("the starter build reads without a remark and is of the promised size") {
  const Reading reading = read(starter_build("First light"), "starter.build");
  CHECK(told(reading) == "");
  REQUIRE(reading.build.has_value());
  const Build& build = *reading.build;
  CHECK(build.name == "First light");
  CHECK(build.jobs.size() >= 4);
  CHECK(build.jobs.size() <= 6);
  CHECK(build.removals.size() >= 2);
  CHECK(build.removals.size() <= 3);
  CHECK(build.articles.size() >= 8);
  CHECK(build.articles.size() <= 12);
  CHECK(build.suppliers.size() == 2);
}

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
    const Reading reading = read(starter_build(name), "starter.build");
    RC_ASSERT(reading.build.has_value());
    RC_ASSERT(reading.diagnostics.empty());
  });
}
