#include "lib/graph/cautions.hpp"

#include <algorithm>
#include <cctype>
#include <set>

#include "lib/graph/tag.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using test::BuildMaker;

bool mentions(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("tags are the same in any case and with hyphens or blanks") {
  CHECK(graph::normal_tag("Riveted-Chain") == "riveted chain");
  CHECK(graph::normal_tag("  tab   washer_") == "tab washer");
  CHECK(graph::normal_tag("").empty());
  CHECK(graph::normal_tag("--").empty());
}

TEST_CASE("the caution table is sorted, its tags are normal and no tag stands twice") {
  std::set<std::string> tags;
  std::string last;
  for (const auto& entry : graph::caution_table()) {
    CHECK(last < entry.id);
    last = entry.id;
    CHECK(std::is_sorted(entry.tags.begin(), entry.tags.end()));
    CHECK(std::count(entry.tags.begin(), entry.tags.end(), entry.id) == 1);
    for (const std::string& tag : entry.tags) {
      CHECK(graph::normal_tag(tag) == tag);
      CHECK_MESSAGE(tags.insert(tag).second, tag);
    }
  }
}

TEST_CASE("every hazard of the trade that the table must know is in it") {
  for (const char* tag :
       {"raised vehicle", "brakes", "wheel", "chain riveting", "grinding", "battery", "gas", "mains", "fuel",
        "spring under load", "hot exhaust", "paint and solvent", "adhesive", "hydraulic", "structure"}) {
    BuildMaker maker;
    maker.job("work").tags = {tag};
    CHECK_MESSAGE(graph::cautions_for(maker.build(), {0}, {}).size() == 1, tag);
  }
}

TEST_CASE("every caution names its source and gives no figure to work to") {
  for (const auto& entry : graph::caution_table()) {
    CHECK_FALSE(entry.caution.source.empty());
    CHECK_MESSAGE(std::none_of(entry.caution.text.begin(), entry.caution.text.end(),
                               [](unsigned char c) { return std::isdigit(c) != 0; }),
                  entry.id);
  }
}

// Sources looked up: Health and Safety Executive, "Working under vehicles" and INDG434; GOV.UK, "MOT
// inspection manual: motorcycles", section 5; EN 1949; BS 7671, section 721.
TEST_CASE("cautions with a public source quote it") {
  BuildMaker maker;
  maker.job("work").tags = {"gas", "mains"};
  maker.removal("wheel").tags = {"raised vehicle", "wheel off"};
  const auto cautions = graph::cautions_for(maker.build(), {0}, {0});
  REQUIRE(cautions.size() == 4);
  CHECK(mentions(cautions[0].source, "EN 1949"));
  CHECK(mentions(cautions[0].text, "registered fitter"));
  CHECK(mentions(cautions[1].source, "BS 7671"));
  CHECK(mentions(cautions[1].text, "competent electrician"));
  CHECK(mentions(cautions[2].source, "INDG434"));
  CHECK(mentions(cautions[2].text, "never under or beside it on a jack alone"));
  CHECK(mentions(cautions[3].source, "MOT inspection manual: motorcycles, section 5"));
}

TEST_CASE("a caution stands once for many tags and the jobs' own come after with their job") {
  BuildMaker maker;
  auto& pads = maker.job("pads");
  pads.tags = {"brake", "Brakes"};
  pads.cautions = {"Keep the pistons clean.", "Keep the pistons clean."};
  maker.job("lines").tags = {"brake-line"};
  const auto cautions = graph::cautions_for(maker.build(), {0, 1}, {});
  REQUIRE(cautions.size() == 2);
  CHECK(mentions(cautions[0].text, "walking pace"));
  CHECK(cautions[1].text == "Keep the pistons clean.");
  CHECK(cautions[1].source == "the build file, the pads");
}

TEST_CASE("only the jobs and removals asked about bring cautions") {
  BuildMaker maker;
  maker.job("pads").tags = {"brakes"};
  maker.job("seat");
  CHECK(graph::cautions_for(maker.build(), {1}, {}).empty());
}

TEST_CASE("every build is told to tell the insurer and that the tool gives no verdict") {
  const auto cautions = graph::general_cautions();
  const auto any = [&](const std::string& words) {
    return std::any_of(cautions.begin(), cautions.end(),
                       [&](const auto& c) { return mentions(c.text, words); });
  };
  CHECK(any("Tell the insurer"));
  CHECK(any("no torque, clearance, wear limit or legal verdict"));
  CHECK(any("differ from country to country"));
}

TEST_CASE("every caution has a line short enough for a step") {
  for (const auto& entry : graph::caution_table()) {
    CHECK_FALSE(entry.caution.brief.empty());
    CHECK_MESSAGE(entry.caution.brief.size() <= 80, entry.id);
  }
}

TEST_CASE("loom, lamps, acid, hot bearings, hoists, sharp ends and the space under a vehicle are minded") {
  const std::pair<const char*, const char*> expected[] = {{"ignition", "electrics: battery off"},
                                                          {"regulator", "electrics: battery off"},
                                                          {"headlamp", "electrics: battery off"},
                                                          {"wiring loom", "electrics: battery off"},
                                                          {"battery acid", "battery acid:"},
                                                          {"bearing heated", "bearings:"},
                                                          {"hoist", "hoist:"},
                                                          {"spokes", "sharp ends:"},
                                                          {"cut cable", "sharp ends:"},
                                                          {"under vehicle", "never alone"}};
  for (const auto& entry : expected) {
    BuildMaker maker;
    maker.job("work").tags = {entry.first};
    const auto cautions = graph::cautions_for(maker.build(), {0}, {});
    const bool minded = std::any_of(cautions.begin(), cautions.end(),
                                    [&](const auto& one) { return mentions(one.brief, entry.second); });
    CHECK_MESSAGE(minded, entry.first);  // a word that is a kind of work brings that kind's cautions too
  }
}

TEST_CASE("a short line stands at the first step that calls for it and at every other job's") {
  BuildMaker maker;
  maker.removal("wheel").tags = {"brakes", "wheel"};
  auto& pads = maker.job("pads", {"wheel"});
  pads.tags = {"brakes"};
  pads.steps = {test::step("Draw the pins"), test::step("Fit the pads")};
  pads.cautions = {"Keep the pistons clean. They are soft."};
  maker.job("tyre", {"wheel"});
  auto order = graph::work_order(maker.build(), {0, 1}, {});
  graph::place_cautions(maker.build(), {0, 1}, {0}, order);
  REQUIRE(order.size() == 5);
  REQUIRE(order[0].cautions.size() == 2);
  CHECK(mentions(order[0].cautions[0], "brakes:"));
  CHECK(mentions(order[0].cautions[1], "wheel:"));
  REQUIRE(order[1].cautions.size() == 2);
  CHECK(mentions(order[1].cautions[0], "brakes:"));
  CHECK(order[1].cautions[1] == "Keep the pistons clean.");
  for (std::size_t i = 2; i < order.size(); ++i) CHECK(order[i].cautions.empty());
}
