#include "lib/graph/digraph.hpp"
#include "lib/graph/work_order.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace {

using namespace fettlefund;
using test::BuildMaker;
using test::step;

/// `count` jobs j0, j1, ..., each after the next and the last after the first.
BuildMaker ring(int count) {
  BuildMaker maker;
  for (int i = 0; i < count; ++i) maker.job(fmt::format("j{}", i), {}, {fmt::format("j{}", (i + 1) % count)});
  return maker;
}

}  // namespace

TEST_CASE("jobs that wait for each other are told once as a path at the first of them") {
  BuildMaker maker;
  maker.job("paint");
  maker.job("sand", {}, {"paint", "strip"});
  maker.job("strip", {}, {"prime"});
  maker.job("prime", {}, {"sand"});
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].severity == build::Severity::error);
  CHECK(told[0].file == "test.build");
  CHECK(told[0].place.line == 2);
  CHECK(told[0].pointer == "/jobs/sand/after");
  CHECK(told[0].found == "sand needs strip needs prime needs sand");
  CHECK(told[0].expected == "no circle: take \"sand\" out of \"after\" of prime");
}

TEST_CASE("of several cycles through the same jobs the shortest is told with the cut that opens them all") {
  BuildMaker maker;
  maker.job("a", {}, {"b"});
  maker.job("b", {}, {"c", "a"});
  maker.job("c", {}, {"a"});
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].found == "a needs b needs a");
  CHECK(told[0].expected == "no circle: take \"b\" out of \"after\" of a");
}

TEST_CASE("where no single cut opens the knot it is said that more circles hang on it") {
  BuildMaker maker;
  maker.job("a", {}, {"b"});
  maker.job("b", {}, {"a", "c"});
  maker.job("c", {}, {"b"});
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].expected == "no circle: take \"a\" out of \"after\" of b (more circles hang on it)");
}

TEST_CASE("separate cycles are all told") {
  BuildMaker maker;
  maker.removal("seat", {"tank"});
  maker.removal("tank", {"seat"});
  maker.job("a", {}, {"a"});
  maker.job("b", {}, {"c"});
  maker.job("c", {}, {"b"});
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 3);
  CHECK(told[0].found == "seat needs tank needs seat");
  CHECK(told[0].pointer == "/removals/seat/needs");
  CHECK(told[0].expected == "no circle: take \"seat\" out of \"needs\" of tank");
  CHECK(told[1].found == "a needs a");
  CHECK(told[2].found == "b needs c needs b");
}

TEST_CASE("a long cycle is cut in the middle of its text") {
  const auto told = graph::check_cycles(ring(30).build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].found ==
        "j0 needs j1 needs j2 needs j3 needs j4 needs j5 needs j6 needs j7 needs j8 needs j9 needs j10 needs "
        "... "
        "(18 more) needs j29 needs j0");
}

TEST_CASE("steps that wait for each other across jobs are told with the steps between left out") {
  BuildMaker maker;
  maker.job("a").steps = {step("first", "", {"b-last"}), step("second"), step("third", "a-last")};
  maker.job("b").steps = {step("begin", "", {"a-last"}), step("end", "b-last")};
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].place.line == 1);
  CHECK(told[0].pointer == "/jobs/a/steps/0");
  CHECK(
      told[0].found ==
      "step 1 of a/steps needs \"b-last\" (b/steps) needs step 1 of b/steps needs \"a-last\" (a/steps) needs "
      "step 1 of a/steps");
  CHECK(told[0].expected == "no circle: take \"b-last\" out of \"after\" of step 1 of a/steps");
}

TEST_CASE("a step against the order of its jobs is a cycle") {
  BuildMaker maker;
  maker.job("a").steps = {step("a1", "a1", {"b1"})};
  maker.job("b", {}, {"a"}).steps = {step("b1", "b1")};
  const auto told = graph::check_cycles(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].found == "\"a1\" (a/steps) needs \"b1\" (b/steps) needs \"a1\" (a/steps)");
  CHECK(told[0].expected == "no circle: take \"b1\" out of \"after\" of \"a1\" (a/steps)");
}

TEST_CASE("loosening something before a removal that the same job uses is no cycle") {
  BuildMaker maker;
  maker.removal("chain").off = {step("Break the chain", "", {"nut-loose"})};
  maker.job("sprocket", {"chain"}).steps = {step("Loosen the nut", "nut-loose"), step("Swap it")};
  CHECK(graph::check_cycles(maker.build()).empty());
}

TEST_CASE("a cycle of jobs is not told again as a cycle of their steps") {
  BuildMaker maker;
  maker.job("a", {}, {"b"});
  maker.job("b", {}, {"a"});
  CHECK(graph::check_cycles(maker.build()).size() == 1);
}

TEST_CASE("a ring of very many jobs is told as one") {
#if defined(FETTLEFUND_SANITIZED)
  constexpr int jobs = 4'000;  // these make each job many times as dear
#else
  constexpr int jobs = 20'000;
#endif
  CHECK(graph::check_cycles(ring(jobs).build()).size() == 1);
}

TEST_CASE("small graphs answer as drawn on paper") {
  const graph::Arrows arrows{{1}, {2}, {0, 3}, {3}, {}};
  CHECK(graph::cyclic_components(arrows) == std::vector<std::vector<int>>{{0, 1, 2}, {3}});
  CHECK(graph::shortest_cycle(arrows, {0, 1, 2}) == std::vector<int>{0, 1, 2});
  CHECK(graph::shortest_cycle(arrows, {3}) == std::vector<int>{3});
  CHECK(graph::reaches(arrows, 0, 3));
  CHECK_FALSE(graph::reaches(arrows, 3, 0));
  CHECK(graph::in_order({{}, {0}, {0}}) == std::vector<int>{1, 2, 0});
  CHECK(graph::in_order(arrows) == std::vector<int>{4});
}
