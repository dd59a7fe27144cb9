#include <algorithm>
#include <array>
#include <string_view>

#include "lib/graph/cautions.hpp"

// Reminders in our own words. Sources name what a reader can look up; where the trade's habit is all there
// is, they say so.
namespace fettlefund::graph {

namespace {

constexpr const char* habit = "common practice, no source";

struct Row {
  const char* id;
  const char* tags;  ///< with ", " between them
  const char* brief;
  const char* text;
  const char* source;
};

constexpr std::array rows{
    Row{"adhesive", "adhesive, adhesive joint, bonding, epoxy, resin",
        "glue and resin: gloves, fresh air, full cure before load",
        "Glue and resin: gloves, fresh air, no bare skin; clean and roughen as the adhesive's data sheet "
        "says, and leave it for the full cure before loading the joint. Nothing that holds a person or a "
        "wheel hangs on glue alone unless its maker says so.",
        habit},
    Row{"battery", "batteries, battery, battery lead, lithium battery, new circuit, wiring at the battery",
        "battery: earth lead off first, on last; no sparks, no metal rings",
        "Battery: fresh air and no sparks or flames near it; earth lead off first and on last; rings and "
        "metal tools away; a fuse close to the battery in every lead that leaves it. Charge and mount it "
        "as its maker says.",
        "Health and Safety Executive, Using electric storage batteries safely (INDG139); order of the "
        "leads and the fuse: common practice, no source"},
    Row{"battery acid", "battery acid, battery filling, flooded battery, lead acid battery",
        "battery acid: eyes and hands covered, water at hand, keep it upright",
        "Battery acid: goggles and gloves, old clothes, plenty of water within reach; rinse a splash at once "
        "and long, and see a doctor for eyes. Keep the battery upright and its vent free; top up only as its "
        "maker says, and hand the old one in.",
        "Health and Safety Executive, Using electric storage batteries safely (INDG139)"},
    Row{"bearing heat", "bearing drawn, bearing heat, bearing heated, heat gun, heated hub",
        "bearings: hot hub burns, steel splinters; gloves, eyes covered, no open flame",
        "Drawing and fitting bearings: eyes covered, never steel hammer on hardened steel, press on the ring "
        "that takes the fit. Warm the housing evenly with hot air and not with a flame; gloves made for "
        "heat, grease, tyres and fuel away, and nobody touches it before it has cooled.",
        habit},
    Row{"brakes", "brake, brake fluid, brake line, brakes",
        "brakes: no grease on the linings; firm lever before it moves",
        "Brakes: work to the maker's manual, keep oil and grease off pads, shoes and discs, and use the "
        "fluid the reservoir names. Pump up a firm lever or pedal before moving, try it at walking pace, "
        "and have a competent person check the work before the machine goes on the road.",
        habit},
    Row{"chain riveting", "chain riveting, drive chain, riveted chain",
        "rivet link: fingers clear, eyes covered, check every pin",
        "Riveted chain: use a tool made for this chain, a new link every time, and measure the rivet "
        "heads against the maker's figures. Eye protection while pressing and grinding; fingers clear of "
        "chain and sprocket, and never turn the wheel with the engine running. In doubt, let a workshop "
        "rivet it.",
        habit},
    Row{"electrics",
        "alternator, crimped joint, electrics, headlamp, ignition, indicator, lamp, lighting, loom, "
        "rectifier, "
        "regulator, starter motor, switchgear, wiring, wiring loom",
        "electrics: battery off before a plug is drawn or a wire is cut",
        "Electrics: disconnect the battery, earth lead first, before work on loom, ignition, regulator, "
        "starter or lamps, and connect it last. Ignition leads carry high voltage with the engine turning; "
        "lamps are hot. Fuse every new wire at its source and try each circuit before the covers close.",
        habit},
    Row{"fuel", "carburettor, fuel, fuel line, fuel tank, petrol, tank",
        "fuel: cold engine, fresh air, nothing that sparks or glows",
        "Fuel: cold engine, outdoors or well aired, nothing near that sparks, glows or switches; battery "
        "off; drain into a proper can and wipe spills at once. Fire extinguisher within reach. Check "
        "every joint for leaks before starting.",
        "Health and Safety Executive, Staying safe while storing and using petrol (web page); the rest: "
        "common practice, no source"},
    Row{"gas", "gas, gas joint, gas line, lpg", "gas: bottle shut and outside; a registered fitter tests it",
        "Gas in a living space: a registered fitter does or signs off the work and tests it for "
        "tightness. Bottle shut and outside meanwhile; keep drop vents open and a gas and carbon monoxide "
        "alarm fitted. Local codes decide.",
        "EN 1949, installation of LPG systems in leisure accommodation vehicles"},
    Row{"grinding", "angle grinder, cutting, cutting metal, drilling metal, grinding",
        "grinding: guard on, eyes and ears covered, sparks away from fuel",
        "Grinding and cutting: guard on, a disc rated for the machine's speed, eye and ear protection, "
        "work clamped; sparks away from fuel, tyres, glass and trim. Watch for smouldering for an hour "
        "afterwards.",
        "Health and Safety Executive, Safety in the use of abrasive wheels (HSG17); the watch afterwards: "
        "common practice, no source"},
    Row{"heavy", "engine out, heavy, heavy lift", "heavy part: two people or a rated lift, nobody below it",
        "Heavy part: plan where it goes before it moves, lift with a second person or a rated hoist from "
        "points the maker names, and never stand or reach under a hanging load.",
        habit},
    Row{"hoist", "chain hoist, crane, engine crane, engine hoist, hoist, lifting tackle, winch",
        "hoist: rated and looked over first; nobody under or beside the load",
        "Hoists and cranes: within the load marked on every part of the tackle, looked over before each "
        "lift, hung from something built to carry it. Lift a hand's breadth, stop and look; lower onto "
        "blocks "
        "before any work, and nobody goes under or beside a hanging load.",
        "Health and Safety Executive, Lifting equipment at work: a brief guide (INDG290)"},
    Row{"hot exhaust", "exhaust, exhaust joint, hot exhaust, silencer",
        "exhaust: let it cool first; run the engine only outdoors",
        "Exhaust: let it cool before touching it; run the engine only in the open; no sealing compound, "
        "wrap or lagging near where fuel can drip. Noise and emission rules are local: check before "
        "changing a silencer.",
        habit},
    Row{"hot liquid", "coolant drained, hot liquid, oil drained",
        "hot oil or coolant: let it cool, catch it, hand it in",
        "Hot oil and coolant scald: let the engine cool and never open a hot pressure cap. Catch what "
        "runs out, keep it from children and animals (coolant tastes sweet and is poisonous) and hand it "
        "in where old oil is collected.",
        habit},
    Row{"hydraulic", "clutch hydraulics, hydraulic, hydraulic line, hydraulic line opened",
        "hydraulics: let the pressure off first; eyes covered; catch the fluid",
        "Hydraulics: let off the pressure first, catch the fluid, cover paint, gloves and eye protection. "
        "New sealing washers, bleed as the maker's manual says, and look for leaks under pressure before "
        "use.",
        habit},
    Row{"mains", "230 v, 240 v, inverter, mains, shore power",
        "mains: unplugged and proved dead; an electrician does or tests it",
        "Mains voltage: unplugged and proved dead before a cover comes off; a residual current device, "
        "and bonding as the code asks. A competent electrician does or tests the work. Local codes "
        "decide.",
        "BS 7671, Requirements for Electrical Installations, section 721 (caravans and motor caravans)"},
    Row{"paint and solvent", "paint, paint and solvent, painted surface, solvent, spray paint",
        "paint and solvent: fresh air, right mask, no flames; rags dry outdoors",
        "Paint and solvents: fresh air, the mask the data sheet asks for, no flames or sparks; two-pack "
        "paint only with proper breathing protection. Oily and solvent rags dry outdoors, spread flat: "
        "they can catch fire by themselves.",
        habit},
    Row{"raised vehicle", "jacked up, on stands, raised, raised vehicle, wheels off the ground",
        "raised machine: rated stands on firm ground, never a jack alone",
        "Raised machine: never under or beside it on a jack alone. Rated stands with their own pins on "
        "hard level ground, at the lifting points of the handbook, other wheels chocked; push it and see "
        "that it stands before you start.",
        "Health and Safety Executive, Working under vehicles; leaflet INDG434"},
    Row{"sharp edges",
        "bowden cable, bowden cables, broken spokes, control cable, cut cable, sharp edges, sheet edge, "
        "spokes, wheel building",
        "sharp ends: spokes and cut cables pierce; gloves, eyes covered, cap the ends",
        "Sharp ends: cut cables, broken spokes and sheet edges pierce hands and eyes, and a spoke under "
        "tension flies when it lets go. Gloves and eye protection; let off the tension evenly, cap or file "
        "every end at once, and pick up what falls.",
        habit},
    Row{"spring under load", "coil spring, fork spring, shock absorber, spring, spring under load",
        "spring under load: let it off, right compressor, face out of line",
        "Spring under load: it can throw parts hard enough to maim. Let off preload first, use a "
        "compressor made for this spring, face and hands out of its line. Without the tool or the maker's "
        "method, let a workshop do it.",
        habit},
    Row{"structure", "chassis, frame, seat belt anchorage, structure, welding, welding frame",
        "frame or chassis: ask before cutting, drilling or welding",
        "Frame, chassis and anchorages: cutting, drilling or welding can weaken them and can end the "
        "approval. Ask the maker and a qualified welder or engineer first; local inspection rules decide. "
        "Before welding: battery off, fuel and lining away, extinguisher at hand.",
        habit},
    Row{"tyre", "tyre, tyre off, tyres", "tyre: stand beside, not over, the wheel while the bead seats",
        "Tyre: size, load and speed rating and direction as approved for the machine; stay beside, not "
        "over, the wheel while the bead seats, and keep to the pressure marked by the maker. Balance it, "
        "and ride gently at first.",
        habit},
    Row{"under a vehicle", "ramps, under a vehicle, under van, under vehicle, underbody",
        "under a vehicle: never alone; one works, the other stays within call",
        "Under a vehicle: two people, one of whom stays out and within call and lets nobody touch the "
        "controls. Rated stands or ramps on hard level ground, wheels chocked, engine off, key out; push it "
        "and see that it stands before anybody goes under. Eyes covered against rust and drips.",
        "Health and Safety Executive, Working under vehicles; leaflet INDG434; the second person: common "
        "practice, no source"},
    Row{"wheel", "axle, axle out, front wheel, rear wheel, wheel, wheel bearing, wheel off",
        "wheel: fasteners in the maker's order; spin it, feel for play",
        "Wheel: tighten axle and pinch bolts in the maker's order and to the maker's figures, fresh split "
        "pin where there is one; spin it and feel for play, binding and run-out, pump the brake, and "
        "check the fasteners again after the first short trip.",
        "GOV.UK, MOT inspection manual: motorcycles, section 5 (wheel bearings, spindles, play and "
        "run-out)"},
};

std::vector<std::string> split(std::string_view tags) {
  std::vector<std::string> words;
  for (std::size_t end = 0; !tags.empty(); tags.remove_prefix(std::min(tags.size(), end + 2))) {
    end = std::min(tags.find(", "), tags.size());
    words.emplace_back(tags.substr(0, end));
  }
  return words;
}

std::vector<TagCaution> make_table() {
  std::vector<TagCaution> table;
  for (const Row& row : rows) table.push_back({row.id, split(row.tags), {row.text, row.source, row.brief}});
  return table;
}

}  // namespace

const std::vector<TagCaution>& caution_table() {
  static const std::vector<TagCaution> table = make_table();
  return table;
}

std::vector<Caution> general_cautions() {
  return {
      {"This plan gives no torque, clearance, wear limit or legal verdict of its own. Figures in it come "
       "from the "
       "build file with the source named there; where they differ from the maker's workshop manual, the "
       "manual "
       "stands.",
       habit},
      {"Tell the insurer about modifications before using the machine: cover can end with a change that was "
       "not "
       "declared.",
       habit},
      {"Registration, approval and inspection rules for altered machines differ from country to country. Ask "
       "the "
       "authority or a test station before the money is spent.",
       habit},
      {"Work beyond your tools or experience (brakes, gas, mains, structure) belongs to a qualified workshop "
       "or a "
       "licensed trade.",
       habit},
      {"Before first use after each stage: every fastener touched is tight, nothing leaks or rubs, lights, "
       "controls and brakes work. Check again after the first short trip.",
       habit},
  };
}

}  // namespace fettlefund::graph
