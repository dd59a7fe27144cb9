#include "cli/standing.hpp"

#include "tests/lib/support/standing_fixture.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::day;

TEST_CASE("stages that are over are no more to be planned") {
  test::BuildText text;
  text.jobs = R"("wax": {"name": "Wax", "want": 1, "hours": 1})";
  const build::Build build = text.read();  // bench on the fourth of January to April 2027
  CHECK(cli::stages_left(test::stood(build, {}, "2027-01-04")) == 4);
  CHECK(cli::stages_left(test::stood(build, {}, "2027-01-05")) == 3);
  CHECK(cli::stages_left(test::stood(build, {}, "2027-03-05")) == 1);
}
