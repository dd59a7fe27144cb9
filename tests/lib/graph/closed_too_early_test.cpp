#include "lib/graph/closed_too_early.hpp"

#include "lib/graph/work_order.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using test::BuildMaker;
using test::step;

}  // namespace

TEST_CASE("a removal that comes off only when another of the same job is back on is a circle") {
  BuildMaker maker;
  maker.removal("r1").on = {step("Close it", "r1-on")};
  maker.removal("r2").off = {step("Open it", "r2-off", {"r1-on"})};
  maker.job("work", {"r1", "r2"});
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].pointer == "/removals/r2/off/0");
  CHECK(told[0].place.line == 2);
  CHECK(told[0].found ==
        "\"r2-off\" (r2/off) needs \"r1-on\" (r1/on) needs the work of work needs \"r2-off\" (r2/off)");
  CHECK(told[0].expected == "no circle: \"work\" needs \"r2\" and \"r1\" off at the same time");
}

TEST_CASE("two jobs may have one removal each off after the other") {
  BuildMaker maker;
  maker.removal("r1").on = {step("Close it", "r1-on")};
  maker.removal("r2").off = {step("Open it", "r2-off", {"r1-on"})};
  maker.job("one", {"r1"});
  maker.job("two", {"r2"});
  CHECK(graph::check_cycles(maker.build()).empty());
}

TEST_CASE("the circle is seen through what a removal needs") {
  BuildMaker maker;
  maker.removal("base").on = {step("Close it", "base-on")};
  maker.removal("top", {"base"}).off = {step("Open it", "", {"base-on"})};
  maker.job("work", {"top"});
  CHECK(graph::check_cycles(maker.build()).size() == 1);
}
