#include "lib/outcome/fewer_openings.hpp"

#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

// Every figure below is worked out by hand from the build's text.
namespace {

using namespace fettlefund;
using test::BuildText;

/// A tyre of 90.00 and a chain of 130.00 behind one wheel, 200.00 on the first payday: 20.00 short for both.
BuildText wheel_twice() {
  BuildText text;
  text.articles = R"("tyre": {"name": "Tyre", "kind": "part", "offers": [{"supplier": "shop", "price": 90}]},
    "chain": {"name": "Chain", "kind": "part", "offers": [{"supplier": "shop", "price": 130}]})";
  text.removals = R"("stand": {"name": "Stand", "hours_off": 0.1, "hours_on": 0.1},
    "wheel": {"name": "Rear wheel", "hours_off": 0.5, "hours_on": 0.75, "needs": ["stand"]})";
  text.jobs =
      R"("tread": {"name": "Tyre", "want": 9, "hours": 1, "removals": ["wheel"], "uses": [{"article": "tyre"}]},
    "drive": {"name": "Chain", "want": 8, "hours": 1, "removals": ["wheel"], "uses": [{"article": "chain"}]})";
  return text;
}

/// A line each.
std::string hints(const BuildText& text) {
  const build::Build build = text.read();
  std::string all;
  for (const std::string& warning : test::planned(build).warnings) all += warning + "\n";
  return all;
}

}  // namespace

TEST_CASE("a strip-down that a little more money would save is told with the stage that lacks it") {
  CHECK(hints(wheel_twice()) ==
        "Rear wheel comes off in stages 1 and 2; all in stage 1: 1.45 h less, needs 20.00 EUR more in stage "
        "1.\n");
}

TEST_CASE("one that takes more than a payday brings is not") {
  BuildText text = wheel_twice();
  text.amount = "19.99";
  text.opening = "180.01";  // 200.00 on the first payday as before
  CHECK(hints(text) == "");
}

TEST_CASE("a must without a want that drifts to a later stage is told with the hours that would be needed") {
  // 2 h and 7.5 h and 1.45 h for the wheel are 0.95 h more than the 10 h of the stage; there is money for
  // both
  BuildText text = wheel_twice();
  text.jobs =
      R"("tread": {"name": "Tyre", "want": 9, "hours": 2, "removals": ["wheel"], "uses": [{"article": "tyre"}]},
    "drive": {"name": "Chain", "must": true, "hours": 7.5, "removals": ["wheel"], "uses": [{"article": "chain"}]})";
  text.opening = "200.00";
  const std::string told = hints(text);
  CAPTURE(told);
  CHECK(told.starts_with("Rear wheel comes off in stages 1 and "));
  CHECK(told.ends_with("; all in stage 1: 1.45 h less, needs 0.95 h more at the bench in stage 1.\n"));
}

TEST_CASE("a part that is due and a later job that take the same thing off are told like any others") {
  // The chain is past its life and wanted for that alone; the tyre waits for its money.
  BuildText text = wheel_twice();
  text.jobs =
      R"("tread": {"name": "Tyre", "want": 2, "hours": 1, "removals": ["wheel"], "uses": [{"article": "tyre"}]},
    "drive": {"name": "Chain", "hours": 1, "removals": ["wheel"], "uses": [{"article": "chain"}]})";
  text.more = R"(, "fitted": {"old-chain": {"name": "Old chain", "since": "2020-01-01", "life_years": 5,
    "replaced_by": ["drive"], "reached_by": ["wheel"]}})";
  const build::Build build = text.read();
  const planning::Outcome outcome = test::planned(build);
  CHECK(test::stage_of(outcome, "drive") == 1);
  CHECK(test::stage_of(outcome, "tread") == 2);
  CHECK(hints(text) ==
        "Rear wheel comes off in stages 1 and 2; all in stage 1: 1.45 h less, needs 20.00 EUR more in stage "
        "1.\n");
}

TEST_CASE("where not all can share a stage those of two stages that can are told") {
  // 100.00 each payday and 200.00 on the first: tyre and chain lack 20.00 in stage 1, the disc costs 250.00.
  BuildText text = wheel_twice();
  text.articles +=
      R"(, "disc": {"name": "Disc", "kind": "part", "offers": [{"supplier": "shop", "price": 250}]})";
  text.jobs +=
      R"(, "stop": {"name": "Disc", "want": 2, "hours": 1, "removals": ["wheel"], "uses": [{"article": "disc"}]})";
  const std::string told = hints(text);
  CAPTURE(told);
  CHECK(told.starts_with(
      "Rear wheel comes off in stages 1, 2 and 4; those of stages 1 and 2 in stage 1: 1.45 h "
      "less, needs 20.00 EUR more in stage 1.\n"));
}

TEST_CASE("what comes off once gives no hint") {
  BuildText text = wheel_twice();
  text.opening = "200.00";
  CHECK(hints(text) == "");
}
