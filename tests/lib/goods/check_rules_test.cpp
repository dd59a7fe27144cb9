#include "lib/goods/forgotten.hpp"
#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund;
using build::Severity;
using test::BuildMaker;

}  // namespace

TEST_CASE("a build that uses rules as they are meant has nothing to complain of") {
  BuildMaker maker;
  maker.job("chain").tags = {"riveted chain", "a word of my own"};
  maker.article("odd-link").serves = {"rivet-link"};
  maker.build().silences = {{"rivet-link", "chain", "two in the drawer", {}}};
  CHECK(goods::check_rules(maker.build()).empty());
}

TEST_CASE("a silence for a rule that does not exist is an error with the nearest rule") {
  BuildMaker maker;
  maker.job("chain").tags = {"riveted chain"};
  maker.build().silences = {{"rivet-lnk", "", "because", {9, 5}}};
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].severity == Severity::error);
  CHECK(told[0].place.line == 9);
  CHECK(told[0].pointer == "/silence/0/rule");
  CHECK(told[0].found == "\"rivet-lnk\"");
  CHECK(told[0].expected == "the id of a rule");
  CHECK(told[0].nearest == "rivet-link");
}

TEST_CASE("a silence for a job that does not exist is an error with the nearest job") {
  BuildMaker maker;
  maker.job("chain").tags = {"riveted chain"};
  maker.build().silences = {{"rivet-link", "chian", "because", {}}};
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].severity == Severity::error);
  CHECK(told[0].pointer == "/silence/0/for");
  CHECK(told[0].expected == "a job or removal");
  CHECK(told[0].nearest == "chain");
}

TEST_CASE("a silence that quiets nothing is a warning") {
  BuildMaker maker;
  maker.job("seat");
  maker.build().silences = {{"rivet-link", "seat", "because", {}}, {"rivet-link", "", "because", {}}};
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 2);
  CHECK(told[0].severity == Severity::warning);
  CHECK(told[0].expected == "a rule that speaks here; its tag \"riveted chain\" is not carried by seat");
  CHECK(told[1].expected ==
        "a rule that speaks here; its tag \"riveted chain\" is not carried by any job or removal");
}

TEST_CASE("two own rules with one id are an error and a tag that nothing carries is a warning") {
  BuildMaker maker;
  maker.job("chain").tags = {"loud"};
  build::Rule rule;
  rule.id = "ear-plugs";
  rule.tag = "laud";
  rule.article = "ear-plugs";
  maker.build().rules = {rule, rule};
  maker.build().rules[0].tag = "loud";
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 2);
  CHECK(told[0].severity == Severity::error);
  CHECK(told[0].pointer == "/rules/1/id");
  CHECK(told[1].severity == Severity::warning);
  CHECK(told[1].pointer == "/rules/1/tag");
  CHECK(told[1].nearest == "loud");
}

TEST_CASE("a goods word that no rule asks for is a warning with the nearest word") {
  BuildMaker maker;
  maker.job("chain");
  maker.article("odd-link").serves = {"rivet-links"};
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].severity == Severity::warning);
  CHECK(told[0].pointer == "/articles/odd-link/serves/0");
  CHECK(told[0].nearest == "rivet-link");
}

TEST_CASE("a tag that is nearly one that rules or cautions know is a warning") {
  BuildMaker maker;
  maker.job("chain").tags = {"rivetted chain"};
  maker.removal("wheel").tags = {"raised-vehicel"};
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 2);
  CHECK(told[0].pointer == "/jobs/chain/tags/0");
  CHECK(told[0].nearest == "riveted chain");
  CHECK(told[1].pointer == "/removals/wheel/tags/0");
  CHECK(told[1].nearest == "raised vehicle");
}

TEST_CASE("a tag of the user's own is left alone and a long one is shortened where it is told") {
  BuildMaker maker;
  maker.job("chain").tags = {"sidecar", "seat", "brass"};
  CHECK(goods::check_rules(maker.build()).empty());
  maker.article("odd-link").serves = {std::string(100, 'x')};
  const auto told = goods::check_rules(maker.build());
  REQUIRE(told.size() == 1);
  CHECK(told[0].found == '"' + std::string(35, 'x') + "...\"");
}
