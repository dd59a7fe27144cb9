#include <array>

#include "lib/goods/forgotten.hpp"
#include "lib/trade/kinds.hpp"

// What a job with a certain tag usually needs besides the part everybody remembers. All rows: common
// practice, no source. Amounts are for one job, in the unit beside them; the build file overrides a row by
// its id.
namespace fettlefund::goods {

namespace {

struct Row {
  const char* id;
  const char* tag;
  const char* article;
  const char* name;
  Quantity amount;  ///< thousandths of the unit
  const char* unit;
  const char* why;
};

constexpr std::array rows{
    Row{"adhesive-cleaner", "adhesive joint", "surface-cleaner", "Surface cleaner", 50'000, "ml",
        "Glue holds on clean, dry, grease-free faces and on nothing else."},
    Row{"adhesive-epoxy", "adhesive joint", "epoxy", "Two-part epoxy", 25'000, "ml",
        "An opened pack from last year has often gone off; one fresh pack saves doing the joint twice."},
    Row{"alloy-thread-paste", "bolt into aluminium", "anti-seize", "Anti-seize paste", 5'000, "ml",
        "Steel in aluminium corrodes fast; the next removal then takes the thread along. Lubricated threads "
        "need "
        "less torque: ask the maker's figure."},
    Row{"bearing-bearing", "bearing drawn", "bearing", "New bearing", 1'000, "piece",
        "A bearing drawn by its inner ring is spoilt by the pull and does not go back."},
    Row{"bearing-grease", "bearing drawn", "bearing-grease", "Bearing grease", 10'000, "ml",
        "Seal lips, spacer and seat want grease when the new bearing goes in."},
    Row{"bearing-seal", "bearing drawn", "bearing-seal", "Shaft seal", 1'000, "piece",
        "The seal has to come out first and seldom survives it."},
    Row{"bulb-spare", "filament bulb", "bulb", "Spare bulb", 1'000, "piece",
        "An old filament often breaks when the lamp is moved."},
    Row{"cable-end-cap", "cable cut to length", "cable-end-cap", "Cable end caps", 2'000, "piece",
        "A cut inner cable frays within days unless its end is capped."},
    Row{"cable-ferrule", "cable cut to length", "cable-ferrule", "Outer casing ferrules", 4'000, "piece",
        "Each cut end of the outer casing needs one, or the casing creeps and the adjustment goes."},
    Row{"coolant", "coolant drained", "coolant", "Fresh coolant", 2'000'000, "ml",
        "Some is always lost, and old coolant is not worth pouring back."},
    Row{"crimp-heat-shrink", "crimped joint", "heat-shrink", "Heat-shrink sleeve", 200, "m",
        "Slide it on before crimping; a bare crimp turns green in a winter."},
    Row{"crimp-terminals", "crimped joint", "crimp-terminals", "Terminals of the right size", 4'000, "piece",
        "The terminal has to suit both wire and tab, and the first crimp is often a practice piece."},
    Row{"deck-bedding", "through deck fitting", "bedding-sealant", "Bedding sealant", 75'000, "ml",
        "The bolt holes leak into the core long before anyone sees it."},
    Row{"deck-washers", "through deck fitting", "backing-washers", "Large backing washers or a plate", 4'000,
        "piece", "Under load a small washer pulls through the deck."},
    Row{"exhaust-paste", "exhaust joint", "copper-grease", "Copper grease", 5'000, "ml",
        "On studs and clamp bolts, so that the exhaust comes off again next time."},
    Row{"exhaust-ring", "exhaust joint", "exhaust-ring", "Exhaust sealing ring", 1'000, "piece",
        "The ring is crushed to fit once; used again it blows."},
    Row{"fuel-hose-clips", "fuel line", "fuel-hose-clips", "Fuel hose clips", 2'000, "piece",
        "Spring clips lose their grip once they have been opened; a weeping fuel joint is a fire."},
    Row{"gas-leak-spray", "gas joint", "leak-spray", "Leak-finding spray", 50'000, "ml",
        "Each joint is tested under pressure; the registered fitter will ask for it."},
    Row{"gasket-gasket", "gasket joint", "gasket", "New gasket", 1'000, "piece",
        "A gasket once pressed seldom seals again, and it tears just when the shops are shut."},
    Row{"gasket-scraper", "gasket joint", "gasket-scraper", "Plastic scraper blade", 1'000, "piece",
        "Old gasket comes off with patience; a steel blade leaves scratches that leak."},
    Row{"grommet", "cable through panel", "grommet", "Rubber grommet", 1'000, "piece",
        "Bare sheet edges saw through a cable."},
    Row{"hose-clips", "hose joint", "hose-clips", "Hose clips", 2'000, "piece",
        "The old clips have bitten in and rarely tighten evenly a second time."},
    Row{"hydraulic-fluid", "hydraulic line opened", "hydraulic-fluid", "Fresh hydraulic fluid, sealed can",
        500'000, "ml", "Bleeding uses more than one thinks, and an open can draws water from the air."},
    Row{"hydraulic-washers", "hydraulic line opened", "sealing-washers", "Sealing washers", 4'000, "piece",
        "Soft washers seal by being squashed once; two at each banjo joint, so a hose with two ends wants "
        "four."},
    Row{"lock-nut", "self locking nut", "lock-nut", "New self-locking nut", 1'000, "piece",
        "The locking insert holds reliably once; then it is just a nut."},
    Row{"oil-drain-pan", "oil drained", "drain-pan", "Drain pan", 1'000, "piece",
        "What runs out finds the floor otherwise."},
    Row{"oil-filter", "oil drained", "oil-filter", "Oil filter", 1'000, "piece",
        "Fresh oil through an old filter is half a job."},
    Row{"oil-washer", "oil drained", "drain-washer", "Drain plug washer", 1'000, "piece",
        "A used one weeps, and the puddle shows after the tools are away."},
    Row{"open-thread-plug", "open threaded hole", "blanking-screw", "Blanking screw", 1'000, "piece",
        "Left open, a thread collects dirt and corrodes; a greased screw keeps it usable."},
    Row{"outdoor-connector", "outdoor connector", "dielectric-grease", "Dielectric grease", 3'000, "ml",
        "Keeps water and green corrosion out of plugs that live outdoors."},
    Row{"paint-masking", "painted surface", "masking-tape", "Masking tape", 1'000, "roll",
        "For the edges to paint, and to guard the paint that stays from the spanner."},
    Row{"paint-touch-up", "painted surface", "touch-up-paint", "Touch-up paint", 10'000, "ml",
        "Bare metal round a new hole or a slip of the spanner rusts first."},
    Row{"press-fit-grease", "rubber press fit", "rubber-grease", "Rubber grease", 5'000, "ml",
        "Mineral grease swells rubber; dry rubber tears while it is pressed in."},
    Row{"rivet-link", "riveted chain", "rivet-link", "Spare rivet link", 1'000, "piece",
        "A link is riveted once; if the first press goes wrong the machine stands until a new one comes."},
    Row{"sealed-cleaner", "sealed window", "surface-cleaner", "Surface cleaner", 50'000, "ml",
        "The sealant bonds to bare, clean faces; old sealant and polish have to go."},
    Row{"sealed-hatch-cleaner", "sealed hatch", "surface-cleaner", "Surface cleaner", 50'000, "ml",
        "The sealant bonds to bare, clean faces; old sealant and polish have to go."},
    Row{"sealed-hatch-sealant", "sealed hatch", "window-sealant", "Sealant for windows and hatches", 300'000,
        "ml", "The whole frame takes about one cartridge, and half a bead leaks."},
    Row{"sealed-sealant", "sealed window", "window-sealant", "Sealant for windows and hatches", 300'000, "ml",
        "The whole frame takes about one cartridge, and half a bead leaks."},
    Row{"split-pin", "split pin", "split-pin", "Split pins", 2'000, "piece",
        "Bent open twice they break; one for the joint and one for the floor."},
    Row{"spoke-rim-tape", "spoked wheel rim", "rim-tape", "Rim tape", 1'000, "piece",
        "Spoke ends prick the tube through a worn or missing tape."},
    Row{"tab-washer", "tab washer", "tab-washer", "Fresh tab washer", 1'000, "piece",
        "The tab is bent once; bent back it cracks."},
    Row{"tab-washer-nut", "tab washer", "tab-washer-nut", "Nut for the tab washer", 1'000, "piece",
        "Chisel marks and rounded flats come to light only when the old tab is up."},
    Row{"thin-ply-inserts", "wood screw into thin ply", "threaded-inserts",
        "Threaded inserts or short screws", 8'000, "piece",
        "Ordinary screws come out on the fine side, or work loose on the road."},
    Row{"threadlock", "threadlocked fastener", "threadlock", "Threadlock, medium", 1'000, "ml",
        "Old threadlock is dead once broken; clean the thread and put on fresh."},
    Row{"tyre-rim-tape", "tubed tyre", "rim-tape", "Rim tape", 1'000, "piece",
        "While the tyre is off a worn tape costs next to nothing; later it costs a tube."},
    Row{"tyre-soap", "tyre off", "tyre-soap", "Tyre fitting soap", 100'000, "ml",
        "Washing-up liquid rusts rims; a dry bead tears."},
    Row{"tyre-valve", "tubeless tyre", "tyre-valve", "Tyre valve", 1'000, "piece",
        "Rubber valves age with the tyre and cannot be changed with it on."},
    Row{"tyre-weights", "tyre off", "balance-weights", "Balance weights", 1'000, "set",
        "The old ones fit the old tyre."},
    Row{"wheel-bearing-grease", "axle out", "axle-grease", "Axle grease", 5'000, "ml",
        "A dry axle rusts into its bearings and has to be driven out next time."},
    Row{"wire-ties", "wiring run", "cable-ties", "Cable ties", 10'000, "piece",
        "A loose loom rubs through at the first bracket."},
    Row{"wiring-fuse", "new circuit", "fuse-holder", "Fuse holder and fuses", 1'000, "piece",
        "Each new feed wants its own fuse close to the battery."},
};

std::vector<build::Rule> make_rules() {
  std::vector<build::Rule> rules;
  for (const Row& row : rows) {
    build::Rule& rule = rules.emplace_back();
    rule.id = row.id;
    rule.tag = row.tag;
    rule.article = row.article;
    rule.name = row.name;
    rule.amount = row.amount;
    rule.unit = row.unit;
    rule.why = row.why;
  }
  for (const trade::Kind& kind : trade::kinds()) {
    for (const trade::Line& line : kind.lines)
      rules.push_back({line.id, kind.name, line.article, line.name, line.amount, line.unit, line.why, {}});
  }
  return rules;
}

}  // namespace

const std::vector<build::Rule>& shipped_rules() {
  static const std::vector<build::Rule> rules = make_rules();
  return rules;
}

}  // namespace fettlefund::goods
