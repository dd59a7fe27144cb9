#include <algorithm>

#include "lib/graph/work_order.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

// Work orders of five everyday jobs, each written as a builder would write it, against the sequence that
// workshops keep: common practice, no source. Figures, names and notes are invented.
namespace {

using namespace fettlefund;
using Lines = std::vector<std::string>;

std::string joined(const Lines& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

std::string order_of(const test::BuildText& text) {
  const build::Build build = text.read();
  Lines lines;
  std::vector<int> jobs;
  for (std::size_t j = 0; j < build.jobs.size(); ++j) jobs.push_back(static_cast<int>(j));
  for (const auto& step : graph::work_order(build, jobs, {}))
    lines.push_back(std::string(graph::kind_text(step.kind)) + ": " + step.text);
  return joined(lines);
}

}  // namespace

TEST_CASE("chain and rear wheel - nut loose before the chain goes, new chain on before it is tight") {
  test::BuildText text;
  text.articles = R"("pin": {"name": "split pin 4 mm", "kind": "part"},
      "washer": {"name": "tab washer", "kind": "part"}, "chain": {"name": "chain", "kind": "part", "unit": "link"})";
  text.removals = R"("cover": {"name": "sprocket cover", "hours_off": 0.2, "hours_on": 0.2},
      "wheel": {"name": "rear wheel", "hours_off": 0.5, "hours_on": 0.5, "one_use": [{"article": "pin"}],
        "torques": [{"on": "axle nut", "value": "98 Nm", "source": "invented"}],
        "off": [{"do": "Draw the axle, wheel out", "after": ["broken"]}],
        "on": [{"do": "Lift the wheel in and set the slack", "id": "wheel-in"}],
        "checks": [{"what": "Wheel turns freely, brake pedal firm", "whole": true}]})";
  text.jobs = R"("sprocket": {"name": "front sprocket", "want": 5, "hours": 0.5, "removals": ["cover"],
        "uses": [{"article": "washer"}], "torques": [{"on": "sprocket nut", "value": "110 Nm", "source": "invented"}],
        "steps": [{"do": "Flatten the washer, loosen the nut against the brake", "id": "loose"},
          {"do": "Change the sprocket, nut on by hand", "after": ["broken"], "fits": "washer", "id": "changed"},
          {"do": "Tighten against the brake", "tightens": "sprocket nut", "after": ["wheel-in", "riveted"]},
          "Bend the washer over a flat"]},
      "chain": {"name": "chain", "want": 5, "hours": 1, "removals": ["wheel", "cover"], "uses": [{"article": "chain", "amount": 106}],
        "steps": [{"do": "Break the old chain", "id": "broken", "after": ["loose"]},
          {"do": "Feed in the new one and rivet it", "id": "riveted", "fits": "chain", "after": ["changed"]}],
        "checks": [{"what": "Rivet heads measured", "limits": "as the chain maker states"}]})";
  CHECK(order_of(text) ==
        joined(
            {"off: Take off sprocket cover", "work: Flatten the washer, loosen the nut against the brake",
             "work: Break the old chain", "work: Change the sprocket, nut on by hand; tab washer (1 piece)",
             "off: Draw the axle, wheel out", "work: Feed in the new one and rivet it; chain (106 links)",
             "check: Rivet heads measured", "back on: Lift the wheel in and set the slack",
             "tighten: Tighten axle nut", "lock: Lock it; new, never the old again: split pin 4 mm (1 piece)",
             "check: Wheel turns freely, brake pedal firm", "tighten: Tighten against the brake",
             "lock: Bend the washer over a flat", "back on: Put sprocket cover back on"}));
}

TEST_CASE("front fork - springs and seals while the legs are out, brake and play checked at the end") {
  test::BuildText text;
  text.articles =
      R"("oil": {"name": "fork oil", "kind": "consumable", "unit": "ml"}, "seals": {"name": "fork seals", "kind": "part"})";
  text.removals = R"("wheel": {"name": "front wheel", "hours_off": 0.5, "hours_on": 0.5,
        "torques": [{"on": "spindle", "value": "60 Nm", "source": "invented"}],
        "checks": [{"what": "Brake pumped up, lever firm", "whole": true}]},
      "legs": {"name": "fork legs", "hours_off": 0.5, "hours_on": 0.5, "needs": ["wheel"],
        "torques": [{"on": "lower clamp bolts", "value": "23 Nm", "source": "invented", "fasteners": 4}]})";
  text.jobs =
      R"("seals": {"name": "fork seals", "want": 5, "hours": 1, "removals": ["legs"], "uses": [{"article": "seals"}]},
      "springs": {"name": "springs and oil", "want": 5, "hours": 1, "with": ["seals"], "after": ["seals"],
        "uses": [{"article": "oil", "amount": 920}], "torques": [{"on": "top caps", "value": "25 Nm", "source": "invented"}],
        "steps": ["Drop the springs in", {"do": "Fill to the level", "fits": "oil"}, "Screw the top caps in"],
        "checks": [{"what": "Oil level alike in both legs, springs out", "target": "invented"}]})";
  CHECK(order_of(text) ==
        joined({"off: Take off front wheel", "off: Take off fork legs", "work: fork seals",
                "work: Drop the springs in", "work: Fill to the level; fork oil (920 ml)",
                "work: Screw the top caps in", "tighten: Tighten top caps",
                "check: Oil level alike in both legs, springs out", "back on: Put fork legs back on",
                "tighten: Tighten lower clamp bolts: 4 fasteners", "back on: Put front wheel back on",
                "tighten: Tighten spindle", "check: Brake pumped up, lever firm"}));
}

TEST_CASE("brake hose - new washers before the banjo bolts are tight, bled, then tried at walking pace") {
  test::BuildText text;
  text.articles =
      R"("hose": {"name": "brake hose", "kind": "part"}, "rings": {"name": "sealing washers", "kind": "part"},
      "fluid": {"name": "brake fluid", "kind": "consumable", "unit": "ml"})";
  text.removals = R"("tank": {"name": "tank", "hours_off": 0.2, "hours_on": 0.2})";
  text.jobs = R"("hose": {"name": "front hose", "want": 5, "hours": 1, "removals": ["tank"],
        "uses": [{"article": "hose"}, {"article": "rings", "amount": 4}, {"article": "fluid", "amount": 250}],
        "torques": [{"on": "banjo bolts", "value": "30 Nm", "source": "invented", "fasteners": 2}],
        "steps": ["Let the fluid out and catch it", {"do": "Lay the hose along the old run", "fits": "hose"},
          {"do": "Fit the banjo bolts with a washer on either side", "fits": "rings"},
          {"do": "Fill and bleed until no bubble comes", "fits": "fluid"}],
        "checks": [{"what": "No weeping at full lever, hose free from lock to lock"},
          {"what": "Lever firm, tried at walking pace", "whole": true}]})";
  CHECK(order_of(text) ==
        joined({"off: Take off tank", "work: Let the fluid out and catch it",
                "work: Lay the hose along the old run; brake hose (1 piece)",
                "work: Fit the banjo bolts with a washer on either side; sealing washers (4 pieces)",
                "tighten: Tighten banjo bolts: 2 fasteners",
                "work: Fill and bleed until no bubble comes; brake fluid (250 ml)",
                "check: No weeping at full lever, hose free from lock to lock", "back on: Put tank back on",
                "check: Lever firm, tried at walking pace"}));
}

TEST_CASE("tyre - off, fitted, seated, balanced, then the wheel back and its nut locked") {
  test::BuildText text;
  text.articles =
      R"("tyre": {"name": "tyre", "kind": "part"}, "weights": {"name": "balance weights", "kind": "part", "unit": "g"},
      "pin": {"name": "split pin", "kind": "part"})";
  text.removals =
      R"("wheel": {"name": "rear wheel", "hours_off": 0.5, "hours_on": 0.5, "one_use": [{"article": "pin"}],
        "torques": [{"on": "axle nut", "value": "98 Nm", "source": "invented"}],
        "on": ["Lift the wheel in", "Put a new split pin through the nut", "Hook the brake rod on"]})";
  text.jobs =
      R"("balance": {"name": "balancing", "want": 1, "hours": 0.3, "with": ["tyre"], "after": ["tyre"], "uses": [{"article": "weights", "amount": 40}]},
      "tyre": {"name": "new tyre", "want": 5, "hours": 1, "removals": ["wheel"], "uses": [{"article": "tyre"}],
        "steps": ["Break the bead and lever the old tyre off", {"do": "Fit the new one, arrow with the rotation", "fits": "tyre"},
          "Seat the bead, then set the pressure"], "checks": [{"what": "Bead line even all round"}]})";
  CHECK(order_of(text) ==
        joined({"off: Take off rear wheel", "work: Break the bead and lever the old tyre off",
                "work: Fit the new one, arrow with the rotation; tyre (1 piece)",
                "work: Seat the bead, then set the pressure", "check: Bead line even all round",
                "work: balancing", "back on: Lift the wheel in", "tighten: Tighten axle nut",
                "lock: Put a new split pin through the nut; new, never the old again: split pin (1 piece)",
                "back on: Hook the brake rod on"}));
}

TEST_CASE("leisure battery circuit - earth off first and on last, fuse in last of the work") {
  test::BuildText text;
  text.articles =
      R"("fuse": {"name": "main fuse", "kind": "part"}, "cable": {"name": "cable", "kind": "part", "unit": "m"})";
  text.removals = R"("earth": {"name": "starter battery earth lead", "hours_off": 0.1, "hours_on": 0.1,
        "checks": [{"what": "Nothing warm, nothing blown with all switched on", "whole": true}]},
      "seat": {"name": "seat base", "hours_off": 0.3, "hours_on": 0.3, "needs": ["earth"],
        "torques": [{"on": "seat bolts", "value": "40 Nm", "source": "invented", "fasteners": 4}]})";
  text.jobs =
      R"("battery": {"name": "leisure battery", "want": 5, "hours": 2, "removals": ["seat"], "uses": [{"article": "fuse"}, {"article": "cable", "amount": 4.5}],
        "torques": [{"on": "terminal nuts", "value": "6 Nm", "source": "invented", "fasteners": 2}],
        "steps": ["Strap the battery down", {"do": "Run and crimp the cable", "fits": "cable"}, "Fit the terminal nuts", {"do": "Put the fuse in", "fits": "fuse"}],
        "checks": [{"what": "Voltage at the far end"}]})";
  CHECK(order_of(text) ==
        joined({"off: Take off starter battery earth lead", "off: Take off seat base",
                "work: Strap the battery down", "work: Run and crimp the cable; cable (4.5 m)",
                "work: Fit the terminal nuts", "tighten: Tighten terminal nuts: 2 fasteners",
                "work: Put the fuse in; main fuse (1 piece)", "check: Voltage at the far end",
                "back on: Put seat base back on", "tighten: Tighten seat bolts: 4 fasteners",
                "back on: Put starter battery earth lead back on",
                "check: Nothing warm, nothing blown with all switched on"}));
}
