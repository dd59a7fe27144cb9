#include "lib/build/read.hpp"

#include "lib/build/starter.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::build;

TEST_CASE("the starter build reads without a remark") {
  const Reading reading = read(starter_build("First light"), "first.build");
  for (const Diagnostic& diagnostic : reading.diagnostics) MESSAGE(to_text(diagnostic));
  REQUIRE(reading.build.has_value());
  CHECK(reading.diagnostics.empty());
  CHECK(reading.build->name == "First light");
}
