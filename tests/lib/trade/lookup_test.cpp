#include "lib/trade/lookup.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;

namespace {

std::string led_to(const std::string& word) {
  const trade::Found found = trade::find_kinds(word);
  return (found.nearest.empty() ? "" : found.nearest + ": ") + trade::names_of(found.kinds, 20);
}

std::string suggested(const std::vector<std::string>& texts) {
  return trade::names_of(trade::suggest_kinds(texts, 3), 3);
}

}  // namespace

// Words that home builders put under "tags" when asked what a job is about.
TEST_CASE("natural words of builders each lead to a kind of work") {
  const std::pair<const char*, const char*> words[] = {{"springs", "fork springs"},
                                                       {"fork", "fork service"},
                                                       {"wiring", "wiring loom"},
                                                       {"tyre", "motorcycle tyre"},
                                                       {"wheel", "wheel bearings"},
                                                       {"exhaust", "exhaust"},
                                                       {"brake fluid", "brake fluid"},
                                                       {"chain", "chain and sprockets"},
                                                       {"bearings", "wheel bearings"},
                                                       {"gasket", "engine cover gasket"},
                                                       {"carburettor", "carburettor"},
                                                       {"oil", "engine oil"},
                                                       {"coolant", "coolant"},
                                                       {"battery", "starter battery"},
                                                       {"lamp", "lamp"},
                                                       {"cable", "control cable"},
                                                       {"hose", "brake hose"},
                                                       {"paint", "painting"},
                                                       {"glue", "gluing"},
                                                       {"bolt", "broken bolt"},
                                                       {"spokes", "spoked wheel rebuild"},
                                                       {"petrol", "fuel tank"},
                                                       {"window", "window"},
                                                       {"insulation", "insulation"},
                                                       {"gas", "gas locker"},
                                                       {"deck", "deck repair"},
                                                       {"rivets", "riveting"}};
  CHECK(std::size(words) == 27);
  for (const auto& entry : words) {
    const trade::Found found = trade::find_kinds(entry.first);
    CHECK_MESSAGE(found.nearest.empty(), entry.first);
    bool among = false;
    for (const trade::Kind* one : found.kinds) among = among || one->name == entry.second;
    CHECK_MESSAGE(among, entry.first);
  }
}

TEST_CASE("a word is found whatever its case, hyphens and plural") {
  CHECK(led_to("Fork-Oil") == "\"bicycle suspension\" or \"fork service\"");
  CHECK(led_to("wheel bearing") == "\"wheel bearings\"");
  CHECK(led_to("SPARK PLUG") == "\"spark plugs\"");
  CHECK(led_to("sprockets") == led_to("sprocket"));
}

TEST_CASE("a slip of the pen leads to the nearest word") {
  CHECK(led_to("antifuoling") == "antifouling: \"antifouling\"");
  CHECK(led_to("xylophone") == "");
  CHECK(led_to("") == "");
}

TEST_CASE("the kind of that very name goes first") {
  const trade::Found found = trade::find_kinds("lamp");
  CHECK(found.by_name);
  CHECK(found.kinds.front()->name == "lamp");
  CHECK(found.kinds.size() > 1);
}

TEST_CASE("what a job is called, uses and does suggests its kind") {
  CHECK(suggested({"Renew the rear brake shoes"}) == "\"brake shoes\"");
  CHECK(suggested({"Fit a new drive chain and sprockets"}) == "\"chain and sprockets\"");
  CHECK(suggested({"Stop the leak", "Clutch cover gasket, "}).find("gasket") != std::string::npos);
  CHECK(suggested({"Write to the aunt"}) == "");
}
