#include "lib/goods/forgotten.hpp"

#include <algorithm>
#include <set>

#include "lib/graph/tag.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using build::ArticleKind;
using test::BuildMaker;
using test::Words;

Words rules_of(const std::vector<goods::ForgottenNeed>& needs) {
  Words rules;
  for (const auto& need : needs) rules.push_back(need.reminder.rule);
  return rules;
}

/// A build with one job "chain" that rivets a chain.
BuildMaker riveting() {
  BuildMaker maker;
  maker.job("chain").tags = {"Riveted-Chain"};
  return maker;
}

build::Rule rule(const std::string& id, const std::string& tag, const std::string& article) {
  build::Rule result;
  result.id = id;
  result.tag = tag;
  result.article = article;
  result.why = "an invented reason";
  return result;
}

}  // namespace

TEST_CASE("a tag calls for what the trade knows is forgotten") {
  const auto needs = goods::forgotten_of_job(riveting().build(), 0);
  REQUIRE(needs.size() == 1);
  CHECK(needs[0].article == -1);
  const auto& reminder = needs[0].reminder;
  CHECK(reminder.key == "rivet-link@chain");
  CHECK(reminder.rule == "rivet-link");
  CHECK(reminder.article == "Spare rivet link");
  CHECK(reminder.amount == 1000);
  CHECK(reminder.unit == "piece");
  CHECK_FALSE(reminder.why.empty());
  CHECK(reminder.needed_by.id == "chain");
  CHECK(reminder.needed_by.name == "the chain");
  CHECK_FALSE(reminder.needed_by.removal);
  CHECK_FALSE(reminder.bought);
}

TEST_CASE("a removal is asked by its own tags") {
  BuildMaker maker;
  maker.removal("nut").tags = {"tab washer"};
  const auto needs = goods::forgotten_of_removal(maker.build(), 0);
  CHECK(rules_of(needs) == Words{"tab-washer", "tab-washer-nut"});
  CHECK(needs[0].reminder.needed_by.removal);
}

TEST_CASE("what comes off for good needs nothing to go back on with") {
  BuildMaker maker;
  maker.removal("nut").tags = {"tab washer"};
  maker.build().removals[0].for_good = true;
  CHECK(goods::forgotten_of_removal(maker.build(), 0).empty());
}

TEST_CASE("an article of the build that serves is bought in its own unit") {
  BuildMaker maker;
  maker.job("bracket").tags = {"threadlocked fastener"};
  auto& glue = maker.article("blue-glue");
  glue.serves = {"Threadlock"};
  glue.unit = std::string("l");
  const auto needs = goods::forgotten_of_job(maker.build(), 0);
  REQUIRE(needs.size() == 1);
  CHECK(needs[0].article == 0);
  CHECK(needs[0].reminder.bought);
  CHECK(needs[0].reminder.article == "the blue-glue");
  CHECK(needs[0].reminder.amount == 1);  // 1 ml is a thousandth of a litre
  CHECK(needs[0].reminder.unit == "l");
}

TEST_CASE("where units do not convert a whole pack is asked for") {
  BuildMaker maker;
  maker.job("bracket").tags = {"threadlocked fastener"};
  auto& glue = maker.article("threadlock");
  glue.unit = std::string("tube");
  glue.pack = 2000;
  CHECK(goods::forgotten_of_job(maker.build(), 0)[0].reminder.amount == 2000);
}

TEST_CASE("between several articles that serve nothing is guessed") {
  BuildMaker maker = riveting();
  maker.article("odd-link").serves = {"rivet-link"};
  maker.article("rivet-link");
  const auto need = goods::forgotten_of_job(maker.build(), 0)[0];
  CHECK(need.article == -1);
  CHECK(need.candidates == std::vector<int>{0, 1});
  CHECK_FALSE(need.reminder.bought);
}

TEST_CASE("an article that says for which jobs it serves goes before others there and serves nowhere else") {
  BuildMaker maker = riveting();
  maker.job("spare").tags = {"riveted chain"};
  maker.article("rivet-link");
  auto& odd = maker.article("odd-link");
  odd.serves = {"rivet-link"};
  odd.serves_for = {"chain"};
  CHECK(goods::forgotten_of_job(maker.build(), 0)[0].article == 1);
  CHECK(goods::forgotten_of_job(maker.build(), 1)[0].article == 0);
}

TEST_CASE("a clutch job is not sold the gasket that stands there for the rocker cover") {
  BuildMaker maker;
  maker.job("clutch").tags = {"gasket joint"};
  maker.job("valves").tags = {"gasket joint"};
  auto& gasket = maker.article("rocker-gasket", ArticleKind::part);
  gasket.serves = {"gasket"};
  gasket.serves_for = {"valves"};
  CHECK(goods::forgotten_of_job(maker.build(), 0)[0].article == -1);
  CHECK(goods::forgotten_of_job(maker.build(), 1)[0].article == 0);
}

TEST_CASE("a rule is quiet where a removal of the job, or one that it needs, lists what serves it") {
  BuildMaker maker;
  maker.job("clutch", {"cover"}).tags = {"gasket joint"};
  maker.removal("cover", {"shield"});
  maker.removal("shield").one_use = {{"gasket", 1000}};
  maker.article("gasket");
  for (const auto& need : goods::forgotten_of_job(maker.build(), 0))
    CHECK(need.reminder.rule != "gasket-gasket");
  maker.build().removals[0].needs.clear();
  CHECK(rules_of(goods::forgotten_of_job(maker.build(), 0))[0] == "gasket-gasket");
}

TEST_CASE("a kind of work brings its lines, each overridden or silenced by its id") {
  BuildMaker maker;
  maker.job("hub").kind = "wheel bearings";
  const Words all = rules_of(goods::forgotten_of_job(maker.build(), 0));
  CHECK(std::count(all.begin(), all.end(), "wheel-bearings-circlip") == 1);
  CHECK(std::count(all.begin(), all.end(), "wheel-bearings-bearing-grease") == 1);
  maker.build().rules = {rule("wheel-bearings-circlip", "wheel bearings", "circlip")};
  maker.build().rules[0].amount = 4000;
  maker.build().silences = {{"wheel-bearings-bearing-grease", "hub", "a tin in the shed", {}}};
  const auto needs = goods::forgotten_of_job(maker.build(), 0);
  CHECK(needs.size() == all.size() - 1);
  const auto circlip = std::find_if(needs.begin(), needs.end(), [](const auto& need) {
    return need.reminder.rule == "wheel-bearings-circlip";
  });
  REQUIRE(circlip != needs.end());
  CHECK(circlip->reminder.amount == 4000);
}

TEST_CASE("a shipped rule that the build gives another tag is not called for by its own") {
  BuildMaker maker = riveting();
  maker.build().rules = {rule("rivet-link", "another-tag", "spare link")};
  CHECK(goods::forgotten_of_job(maker.build(), 0).empty());
  maker.build().jobs[0].tags = {"another tag"};
  CHECK(rules_of(goods::forgotten_of_job(maker.build(), 0)) == Words{"rivet-link"});
}

TEST_CASE("a tag that is a kind of work calls for the same lines") {
  BuildMaker maker;
  maker.job("a").kind = "fork springs";
  maker.job("b").tags = {"Fork-springs"};
  CHECK(rules_of(goods::forgotten_of_job(maker.build(), 0)) ==
        rules_of(goods::forgotten_of_job(maker.build(), 1)));
}

TEST_CASE("who needs a thing is told in words") {
  goods::Reminder reminder;
  reminder.needed_by.name = "Tyre";
  CHECK(goods::who_needs(reminder) == "Tyre");
  reminder.also = {{"b", "Brakes", false}};
  CHECK(goods::who_needs(reminder) == "Tyre and Brakes");
  reminder.also.push_back({"c", "Chain", false});
  CHECK(goods::who_needs(reminder) == "Tyre, Brakes and Chain");
  reminder.also.push_back({"d", "Disc", false});
  reminder.also.push_back({"e", "Exhaust", false});
  CHECK(goods::who_needs(reminder) == "Tyre, Brakes, Chain and 2 more");
}

TEST_CASE("an article without offer or stock leaves a reminder only") {
  BuildMaker maker = riveting();
  maker.article("rivet-link").offers.clear();
  CHECK(goods::forgotten_of_job(maker.build(), 0)[0].article == -1);
  maker.build().on_hand.push_back({"rivet-link", 1000, {}});
  CHECK(goods::forgotten_of_job(maker.build(), 0)[0].article == 0);
}

TEST_CASE("a rule is quiet where the job itself lists what serves it") {
  BuildMaker maker = riveting();
  maker.article("odd-link").serves = {"rivet-link"};
  maker.build().jobs[0].uses = {{"odd-link", 1000}};
  CHECK(goods::forgotten_of_job(maker.build(), 0).empty());
}

TEST_CASE("a rule is not quiet because another job lists what serves it") {
  BuildMaker maker = riveting();
  maker.article("rivet-link");
  maker.job("other").uses = {{"rivet-link", 1000}};
  CHECK(goods::forgotten_of_job(maker.build(), 0).size() == 1);
}

TEST_CASE("a tool that serves is never used up and an owned one quiets the rule") {
  BuildMaker maker;
  maker.job("head").tags = {"gasket joint"};
  maker.article("my-scraper", ArticleKind::tool).serves = {"gasket-scraper"};
  const auto needs = goods::forgotten_of_job(maker.build(), 0);
  CHECK(rules_of(needs) == Words{"gasket-gasket", "gasket-scraper"});
  CHECK(needs[1].article == -1);
  maker.build().on_hand.push_back({"my-scraper", 1000, {}});
  CHECK(rules_of(goods::forgotten_of_job(maker.build(), 0)) == Words{"gasket-gasket"});
}

TEST_CASE("two rules that ask one job for the same goods ask once") {
  BuildMaker maker;
  maker.job("van").tags = {"sealed window", "adhesive joint"};
  CHECK(rules_of(goods::forgotten_of_job(maker.build(), 0)) ==
        Words{"adhesive-cleaner", "adhesive-epoxy", "sealed-sealant"});
}

TEST_CASE("the user's rule takes the place of a shipped one with its id and new ones come last") {
  BuildMaker maker = riveting();
  maker.build().jobs[0].tags.push_back("loud");
  maker.build().rules = {rule("ear-plugs", "loud", "ear-plugs"),
                         rule("rivet-link", "riveted chain", "clip-link")};
  const auto needs = goods::forgotten_of_job(maker.build(), 0);
  CHECK(rules_of(needs) == Words{"rivet-link", "ear-plugs"});
  CHECK(needs[0].reminder.article == "clip-link");
  CHECK(needs[0].reminder.why == "an invented reason");
}

TEST_CASE("a rule is silenced everywhere or for one job") {
  BuildMaker maker = riveting();
  maker.job("second").tags = {"riveted chain"};
  maker.build().silences = {{"rivet-link", "chain", "two in the drawer", {}}};
  CHECK(goods::forgotten_of_job(maker.build(), 0).empty());
  CHECK(goods::forgotten_of_job(maker.build(), 1).size() == 1);
  maker.build().silences[0].only_for.clear();
  CHECK(goods::forgotten_of_job(maker.build(), 1).empty());
}

TEST_CASE("the shipped rules have ids of their own and are complete, and there are enough of them") {
  const auto& rules = goods::shipped_rules();
  CHECK(rules.size() >= 500);
  std::set<std::string> ids;
  for (const auto& shipped : rules) CHECK_MESSAGE(ids.insert(shipped.id).second, shipped.id);
  for (const auto& shipped : rules) {
    CHECK_MESSAGE(graph::normal_tag(shipped.tag) == shipped.tag, shipped.id);
    CHECK_MESSAGE(shipped.amount > 0, shipped.id);
    CHECK_MESSAGE(!shipped.name.empty(), shipped.id);
    CHECK_MESSAGE(shipped.why.ends_with('.'), shipped.id);
    CHECK_MESSAGE(shipped.id.size() <= 40, shipped.id);
  }
}

TEST_CASE("motorcycle, van, bicycle and boat work each call on the shipped rules") {
  for (const char* tag : {"riveted chain",
                          "tab washer",
                          "gasket joint",
                          "hydraulic line opened",
                          "bearing drawn",
                          "threadlocked fastener",
                          "crimped joint",
                          "adhesive joint",
                          "painted surface",
                          "exhaust joint",
                          "split pin",
                          "open threaded hole",
                          "rubber press fit",
                          "outdoor connector",
                          "cable cut to length",
                          "hose joint",
                          "sealed window",
                          "wood screw into thin ply",
                          "gas joint",
                          "bolt into aluminium",
                          "through-deck fitting",
                          "spoked wheel rim",
                          "tyre off"}) {
    BuildMaker maker;
    maker.job("work").tags = {tag};
    CHECK_MESSAGE(!goods::forgotten_of_job(maker.build(), 0).empty(), tag);
  }
}
