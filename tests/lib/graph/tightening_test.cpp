#include "lib/graph/tightening.hpp"

#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

// Fit, tighten, lock, check: common practice, no source. All figures are invented.
namespace {

using namespace fettlefund;
using test::BuildMaker;
using test::step;
using Lines = std::vector<std::string>;

Lines lines(const std::vector<graph::WrittenStep>& steps) {
  Lines result;
  for (const auto& s : steps)
    result.push_back(std::string(graph::kind_text(s.shown.kind)) + ": " + s.shown.text);
  return result;
}

build::Torque torque(const std::string& on) { return {on, "85 Nm", "invented manual", "", 1}; }

build::Step linked(const std::string& text, const std::string& fits, const std::string& tightens) {
  build::Step result = step(text);
  result.fits = fits;
  result.tightens = tightens;
  return result;
}

}  // namespace

TEST_CASE("a nut is tightened before the split pin goes in whether or not a step speaks of it") {
  BuildMaker maker;
  maker.article("pin").name = "split pin 4 mm";
  auto& wheel = maker.removal("wheel");
  wheel.one_use = {{"pin", 1000}};
  wheel.torques = {torque("spindle nut")};
  wheel.on = {step("Lift the wheel in"), step("Put a split pin through the nut")};
  CHECK(lines(graph::on_steps(maker.build(), wheel)) ==
        Lines{"back on: Lift the wheel in", "tighten: Tighten spindle nut",
              "lock: Put a split pin through the nut; new, never the old again: split pin 4 mm (1 piece)"});
  wheel.on.back() = step("Put a split pin through the spindle nut");
  CHECK(lines(graph::on_steps(maker.build(), wheel))[1] == "tighten: Tighten spindle nut");
}

TEST_CASE("what locks and stands in no step gets one of its own after the tightening") {
  BuildMaker maker;
  maker.article("pin").name = "Split pin";
  auto& wheel = maker.removal("wheel");
  wheel.one_use = {{"pin", 2000}};
  wheel.torques = {torque("spindle nut")};
  wheel.checks = {{"Spin it", "", ""}};
  CHECK(lines(graph::on_steps(maker.build(), wheel)) ==
        Lines{"back on: Put the wheel back on", "tighten: Tighten spindle nut",
              "lock: Lock it; new, never the old again: Split pin (2 pieces)", "check: Spin it"});
}

TEST_CASE("a step says itself what it fits and tightens") {
  BuildMaker maker;
  maker.article("ring").name = "crush ring";
  auto& oil = maker.article("oil");
  oil.name = "fork oil";
  oil.unit = "ml";
  auto& job = maker.job("legs");
  job.uses = {{"oil", 920'000}, {"ring", 2000}};
  job.torques = {torque("cap bolts"), torque("damper bolts")};
  job.steps = {linked("Do up the lower bolts on fresh rings", "ring", "damper bolts"),
               linked("Fill both", "oil", ""), linked("Close the tops", "", "cap bolts")};
  const auto steps = graph::job_steps(maker.build(), job);
  CHECK(lines(steps) == Lines{"tighten: Do up the lower bolts on fresh rings; crush ring (2 pieces)",
                              "work: Fill both; fork oil (920 ml)", "tighten: Close the tops"});
  CHECK(steps[0].shown.torque == "85.0 N m (62.7 lbf ft)");
  CHECK(steps[2].shown.source == "invented manual");
}

TEST_CASE("a step that fits what locks comes after the tightening that no step speaks of") {
  BuildMaker maker;
  maker.article("wire").name = "lock wire";
  auto& job = maker.job("disc");
  job.uses = {{"wire", 1000}};
  job.torques = {torque("disc bolts")};
  job.steps = {step("Set the disc on"), linked("Secure the heads in pairs", "wire", "")};
  CHECK(lines(graph::job_steps(maker.build(), job)) ==
        Lines{"work: Set the disc on", "tighten: Tighten disc bolts",
              "lock: Secure the heads in pairs; lock wire (1 piece)"});
}

TEST_CASE("fitting by hand does not draw the tightening forward") {
  BuildMaker maker;
  auto& job = maker.job("guard");
  job.torques = {torque("guard bolts")};
  job.steps = {step("Fit the guard bolts by hand"), step("Line the guard up")};
  CHECK(lines(graph::job_steps(maker.build(), job)) == Lines{"work: Fit the guard bolts by hand",
                                                             "work: Line the guard up",
                                                             "tighten: Tighten guard bolts"});
}

TEST_CASE("the only step that tightens something takes the only torque that no step speaks of") {
  BuildMaker maker;
  auto& wheel = maker.removal("wheel");
  wheel.torques = {torque("rear axle nut")};
  wheel.on = {step("Lift the wheel in"), step("Tighten the nut")};
  CHECK(lines(graph::on_steps(maker.build(), wheel)) ==
        Lines{"back on: Lift the wheel in", "tighten: Tighten the nut"});
  wheel.on.push_back(step("Tighten the adjusters"));
  CHECK(lines(graph::on_steps(maker.build(), wheel)).back() == "tighten: Tighten rear axle nut");
}

TEST_CASE("words that take a lock out or flatten it lock nothing") {
  CHECK(graph::locks("put a split pin through the nut"));
  CHECK(graph::locks("bend the tab over a flat"));
  CHECK(graph::locks("fit new lock wire"));
  CHECK_FALSE(graph::locks("pull the split pin"));
  CHECK_FALSE(graph::locks("straighten the split pin and draw it"));
  CHECK_FALSE(graph::locks("flatten the tab washer"));
  CHECK_FALSE(graph::locks("put a fresh tab washer on"));
}
