#include "lib/graph/work_order.hpp"

#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using graph::StepKind;
using test::BuildMaker;
using test::step;
using Lines = std::vector<std::string>;

/// "off wheel: Take off the wheel", one line a step.
Lines lines(const std::vector<graph::WorkStep>& steps) {
  static const char* const kinds[] = {"off", "work", "on", "tighten", "lock", "check"};
  Lines result;
  for (const auto& s : steps)
    result.push_back(kinds[static_cast<int>(s.kind)] + (" " + s.of) + ": " + s.text);
  return result;
}

/// Only kind and owner, one word pair a run of steps: "off wheel, work tyre, on wheel".
std::string outline(const std::vector<graph::WorkStep>& steps) {
  std::string text, last;
  for (const std::string& line : lines(steps)) {
    const std::string head = line.substr(0, line.find(':'));
    if (head != last) text += (text.empty() ? "" : ", ") + head;
    last = head;
  }
  return text;
}

std::vector<graph::WorkStep> everything(const build::Build& build) {
  return graph::work_order(build, test::all_of(build.jobs), {});
}

}  // namespace

TEST_CASE("a removal comes off once for all jobs that share it and goes back on after the last") {
  BuildMaker maker;
  maker.removal("wheel");
  maker.removal("tank");
  maker.job("tyre", {"wheel"});
  maker.job("filter", {"tank"});
  maker.job("bearing", {"wheel"});
  CHECK(outline(everything(maker.build())) ==
        "off wheel, work tyre, work bearing, on wheel, off tank, work filter, on tank");
}

TEST_CASE("what takes off again what another job fitted comes after it, unless after says otherwise") {
  BuildMaker maker;
  maker.job("mend", {});
  maker.job("wide", {});
  build::Build build = maker.build();
  CHECK(outline(everything(build)) == "work mend, work wide");
  build.jobs[1].replaced_by = {"mend"};
  CHECK(outline(everything(build)) == "work wide, work mend");
  build.jobs[1].after = {"mend"};
  CHECK(outline(everything(build)) == "work mend, work wide");
}

TEST_CASE("what is needed only by a later job comes off only for that job") {
  BuildMaker maker;
  maker.removal("seat");
  maker.removal("tank", {"seat"});
  maker.job("fuel-tap", {"tank"});
  maker.job("seat-cover", {"seat"});
  CHECK(outline(everything(maker.build())) ==
        "off seat, off tank, work fuel-tap, on tank, work seat-cover, on seat");
}

TEST_CASE("what stays off longer is taken off first so that refitting is the reverse") {
  BuildMaker maker;
  maker.removal("guard");
  maker.removal("wheel");
  maker.job("both", {"guard", "wheel"});
  maker.job("tyre", {"wheel"}, {"both"});
  CHECK(outline(everything(maker.build())) ==
        "off wheel, off guard, work both, on guard, work tyre, on wheel");
}

TEST_CASE("jobs follow after even against file order") {
  BuildMaker maker;
  maker.job("alarm", {}, {"loom"});
  maker.job("loom");
  CHECK(outline(everything(maker.build())) == "work loom, work alarm");
}

TEST_CASE("a job that uses nothing does not stand between jobs that share a removal") {
  BuildMaker maker;
  maker.removal("wheel");
  maker.job("tyre", {"wheel"});
  maker.job("horn");
  maker.job("bearing", {"wheel"});
  CHECK(outline(everything(maker.build())) == "off wheel, work tyre, work bearing, on wheel, work horn");
}

TEST_CASE("a removal without steps of its own gets one to take it off and one to put it back on") {
  BuildMaker maker;
  maker.removal("wheel").helper = true;
  maker.job("tyre", {"wheel"});
  const auto steps = everything(maker.build());
  CHECK(lines(steps) ==
        Lines{"off wheel: Take off the wheel", "work tyre: the tyre", "on wheel: Put the wheel back on"});
  CHECK(steps[0].helper);
  CHECK_FALSE(steps[1].helper);
  CHECK(steps[2].helper);
  CHECK(steps[2].number == 3);
}

TEST_CASE("the nut is loosened while the chain still holds the sprocket and tightened when it does again") {
  BuildMaker maker;
  maker.removal("cover");
  auto& chain = maker.removal("chain");
  chain.off = {step("Break the chain", "chain-broken", {"nut-loose"})};
  chain.on = {step("Rivet the chain", "chain-riveted")};
  auto& sprocket = maker.job("sprocket", {"cover", "chain"});
  sprocket.steps = {step("Loosen the nut", "nut-loose"), step("Swap the sprocket"),
                    step("Fit the nut hand-tight", "", {}), step("Lock the nut", "", {"chain-riveted"})};
  sprocket.torques = {{"nut", "85 Nm", "invented manual", "", 1}};
  CHECK(lines(everything(maker.build())) ==
        Lines{"off cover: Take off the cover", "work sprocket: Loosen the nut", "off chain: Break the chain",
              "work sprocket: Swap the sprocket", "work sprocket: Fit the nut hand-tight",
              "on chain: Rivet the chain", "work sprocket: Lock the nut", "tighten sprocket: Tighten nut",
              "on cover: Put the cover back on"});
}

TEST_CASE("tightening stands where the fastener goes back and never after loosening it") {
  BuildMaker maker;
  auto& wheel = maker.removal("wheel");
  wheel.on = {step("Fit the axle nut"), step("Bend the split pin over")};
  wheel.torques = {{"axle nut", "85 Nm", "invented manual", "", 1},
                   {"pinch bolts", "20 Nm", "invented manual", "opposite pairs", 4}};
  wheel.checks = {{"Spin the wheel", "no binding", ""}, {"Chain slack", "35 mm", "30 to 40 mm"}};
  auto& job = maker.job("tyre", {"wheel"});
  job.steps = {step("Tighten the valve nut"), step("Loosen the rim lock")};
  job.torques = {{"valve nut", "2 Nm", "invented manual", "", 1},
                 {"rim lock", "13 Nm", "invented manual", "", 1}};
  const auto steps = everything(maker.build());
  CHECK(lines(steps) ==
        Lines{"off wheel: Take off the wheel", "tighten tyre: Tighten the valve nut",
              "work tyre: Loosen the rim lock", "tighten tyre: Tighten rim lock",
              "on wheel: Fit the axle nut", "tighten wheel: Tighten axle nut",
              "tighten wheel: Tighten pinch bolts: 4 fasteners, opposite pairs (1, 3, 2, 4, counted round)",
              "lock wheel: Bend the split pin over", "check wheel: Spin the wheel",
              "check wheel: Chain slack"});
  CHECK(steps[5].torque == "85.0 N m (62.7 lbf ft)");
  CHECK(steps[5].source == "invented manual");
  CHECK(steps[8].limits == "no binding");
  CHECK(steps[9].limits == "35 mm; 30 to 40 mm");
}

TEST_CASE("a job whose step must come before a removal goes first when it does not use that removal") {
  BuildMaker maker;
  maker.removal("cover").off = {step("Lift the cover", "", {"oil-out"})};
  maker.job("clutch", {"cover"});
  maker.job("oil").steps = {step("Drain the oil", "oil-out"), step("Fit the plug")};
  CHECK(outline(everything(maker.build())) == "work oil, off cover, work clutch, on cover");
}

TEST_CASE("a job that must be done before a removal goes back is done while it is off") {
  BuildMaker maker;
  maker.removal("panel").on = {step("Close the panel", "", {"wired"})};
  maker.job("loom", {"panel"});
  maker.job("horn");
  maker.job("alarm").steps = {step("Wire the alarm", "wired")};
  CHECK(outline(everything(maker.build())) == "off panel, work loom, work alarm, on panel, work horn");
}

TEST_CASE("steps of two jobs interleave only where after asks") {
  BuildMaker maker;
  maker.job("a").steps = {step("a1", "a1"), step("a2", "a2", {"b1"})};
  maker.job("b").steps = {step("b1", "b1", {"a1"}), step("b2")};
  CHECK(lines(everything(maker.build())) == Lines{"work a: a1", "work b: b1", "work a: a2", "work b: b2"});
}

TEST_CASE("a job after another is done while things are off though the other is finished when they are on") {
  BuildMaker maker;
  maker.removal("chain").on = {step("Rivet the chain", "riveted")};
  maker.removal("wheel", {"chain"});
  maker.job("front", {"chain"}).steps = {step("Swap the front"), step("Lock the nut", "", {"riveted"})};
  maker.job("rear", {"wheel"}, {"front"}).steps = {step("Swap the rear")};
  CHECK(outline(everything(maker.build())) ==
        "off chain, work front, off wheel, work rear, on wheel, on chain, work front");
}

TEST_CASE("what waits for something to be back on does not hurry it back before what came off after it") {
  BuildMaker maker;
  maker.removal("chain").on = {step("Rivet the chain", "riveted")};
  maker.removal("guard");
  maker.job("front", {"chain"}).steps = {step("Swap the front"), step("Lock the nut", "", {"riveted"})};
  maker.job("rear", {"chain", "guard"});
  CHECK(outline(everything(maker.build())) ==
        "off chain, work front, off guard, work rear, on guard, on chain, work front");
}

TEST_CASE("a step that waits for a later job is done when that job has come so far") {
  BuildMaker maker;
  maker.job("chain", {}, {"sprocket"}).steps = {step("Break the old chain", "", {"loose"}),
                                                step("Rivet the new chain", "riveted"),
                                                step("Set the slack")};
  maker.job("sprocket").steps = {step("Loosen the nut", "loose"), step("Swap it"),
                                 step("Lock the nut", "", {"riveted"})};
  CHECK(graph::check_cycles(maker.build()).empty());
  CHECK(lines(everything(maker.build())) ==
        Lines{"work sprocket: Loosen the nut", "work sprocket: Swap it", "work chain: Break the old chain",
              "work chain: Rivet the new chain", "work sprocket: Lock the nut", "work chain: Set the slack"});
}

TEST_CASE("of two jobs that wait for each other the one goes first whose earlier step is waited for") {
  BuildMaker maker;
  maker.job("chain").steps = {step("Break the old chain", "", {"loose"}), step("Rivet it", "riveted")};
  maker.job("sprocket").steps = {step("Loosen the nut", "loose"), step("Swap it"),
                                 step("Lock the nut", "", {"riveted"})};
  CHECK(lines(everything(maker.build())) == Lines{"work sprocket: Loosen the nut", "work sprocket: Swap it",
                                                  "work chain: Break the old chain", "work chain: Rivet it",
                                                  "work sprocket: Lock the nut"});
}

TEST_CASE("a step before a removal that its own job uses does not move the job out of file order") {
  BuildMaker maker;
  maker.removal("chain").off = {step("Break the chain", "", {"loose"})};
  maker.job("rear", {"chain"});
  maker.job("front", {"chain"}).steps = {step("Loosen the nut", "loose"), step("Swap it")};
  CHECK(outline(everything(maker.build())) == "work front, off chain, work rear, work front, on chain");
}

TEST_CASE("an after that names a step of no job at hand asks for nothing") {
  BuildMaker maker;
  maker.job("a").steps = {step("a1", "a1", {"elsewhere"})};
  CHECK(outline(everything(maker.build())) == "work a");
}

TEST_CASE("removals are closed over what they need in an order in which they can come off") {
  BuildMaker maker;
  maker.removal("tank", {"seat"});
  maker.removal("airbox", {"tank"});
  maker.removal("seat");
  maker.removal("wheel");
  CHECK(graph::closed_over_needs(maker.build(), {1}) == std::vector<int>{2, 0, 1});
  CHECK(graph::closed_over_needs(maker.build(), {}).empty());
}

TEST_CASE(
    "what a removal spoils is named where it goes back on, at the step that speaks of it if there is one") {
  BuildMaker maker;
  maker.article("pin").name = "split pin";
  build::Article& ring = maker.article("ring");
  ring.unit = "piece";
  build::Removal& wheel = maker.removal("wheel");
  wheel.one_use = {{"pin", 1000}, {"ring", 2000}};
  wheel.on = {step("Lift the wheel in"), step("Bend a split pin through the nut")};
  maker.job("tyre", {"wheel"});
  const auto steps = lines(everything(maker.build()));
  REQUIRE(steps.size() == 5);
  CHECK(steps[2] ==
        "on wheel: Lay out for putting the wheel back on; new, never the old again: the ring (2 pieces)");
  CHECK(steps[3] == "on wheel: Lift the wheel in");
  CHECK(steps[4] ==
        "lock wheel: Bend a split pin through the nut; new, never the old again: split pin (1 piece)");
}

TEST_CASE("a job done with others and without a removal of its own is done while theirs are off") {
  BuildMaker maker;
  maker.removal("wheel");
  maker.removal("legs", {"wheel"});
  maker.job("gaiters", {"legs"});
  maker.job("springs").together_with = {"gaiters"};
  CHECK(outline(everything(maker.build())) ==
        "off wheel, off legs, work gaiters, work springs, on legs, on wheel");
}

TEST_CASE("with two partners it is done while what both have off is off, else what the first has") {
  BuildMaker maker;
  maker.removal("wheel");
  maker.removal("guard");
  maker.job("tyre", {"wheel"});
  maker.job("sprocket", {"wheel", "guard"});
  maker.job("balance", {}, {"tyre", "sprocket"}).together_with = {"tyre", "sprocket"};
  CHECK(outline(everything(maker.build())) ==
        "off wheel, work tyre, off guard, work sprocket, on guard, work balance, on wheel");
  BuildMaker apart;
  apart.removal("front");
  apart.removal("rear");
  apart.job("front-tyre", {"front"});
  apart.job("rear-tyre", {"rear"});
  apart.job("weights").together_with = {"front-tyre", "rear-tyre"};
  CHECK(outline(everything(apart.build())) ==
        "off front, work front-tyre, work weights, on front, off rear, work rear-tyre, on rear");
}

TEST_CASE("what comes off for good is not put back and other jobs of the stage use that it is off") {
  BuildMaker maker;
  maker.removal("silencers").on = {step("Fit the old silencers")};
  auto& gone = maker.removal("silencers-for-good");
  gone.stands_for = "silencers";
  gone.for_good = true;
  maker.job("bracket", {"silencers"});
  maker.job("new-silencers", {"silencers-for-good"}, {"bracket"});
  CHECK(lines(everything(maker.build())) ==
        Lines{"off silencers-for-good: Take off the silencers-for-good for good", "work bracket: the bracket",
              "work new-silencers: the new-silencers"});
}

TEST_CASE("a check of the whole waits until all that was off is back on") {
  BuildMaker maker;
  maker.removal("stand");
  maker.removal("wheel", {"stand"}).checks = {{"Lever is firm", "", "", true}, {"Wheel spins", "", ""}};
  maker.job("pads", {"wheel"}).checks = {{"Walking-pace test", "", "", true}, {"Pads sit square", "", ""}};
  CHECK(lines(everything(maker.build())) ==
        Lines{"off stand: Take off the stand", "off wheel: Take off the wheel", "work pads: the pads",
              "check pads: Pads sit square", "on wheel: Put the wheel back on", "check wheel: Wheel spins",
              "on stand: Put the stand back on", "check pads: Walking-pace test",
              "check wheel: Lever is firm"});
}
