#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::Money;
using test::BuildText;
using test::planned;

namespace {

Money minor(std::int64_t minor) { return Money::of_minor(minor); }

/// Three jobs a stage apart, the first and the last of which use the puller.
BuildText apart(const std::string& puller) {
  return {.articles = R"("puller": {"name": "puller", "kind": "tool")" + puller + "}",
          .jobs = R"("a": {"name": "a", "want": 9, "hours": 8, "tools": ["puller"]},
                     "b": {"name": "b", "want": 5, "hours": 8},
                     "c": {"name": "c", "want": 2, "hours": 8, "tools": ["puller"]})"};
}

std::string how(const BuildText& text) {
  const build::Build build = text.read();
  return planned(build).tools.at(0).how;
}

}  // namespace

TEST_CASE("a tool hired in two stages is bought once that is one cent cheaper") {
  const auto priced = [](const std::string& price) {
    return how(apart(R"(, "hire": 5.00, "offers": [{"supplier": "shop", "price": )" + price + "}]"));
  };
  CHECK(priced("10.01") == "hired in stages 1 and 3");
  CHECK(priced("9.99") == "bought in stage 1");
}

TEST_CASE("delivery of the tool counts in what is cheaper") {
  BuildText text = apart(R"(, "hire": 5.00, "offers": [{"supplier": "shop", "price": 9.00}])");
  text.suppliers = R"("shop": {"name": "Corner Shop", "delivery": 0.99})";
  CHECK(how(text) == "bought in stage 1");
  text.suppliers = R"("shop": {"name": "Corner Shop", "delivery": 1.01})";
  CHECK(how(text) == "hired in stages 1 and 3");
}

TEST_CASE("a tool borrowed for one stage is hired for the other") {
  const std::string lent = R"(, "hire": 5.00, "borrow": [{"from": "2027-01-01", "until": "2027-01-31"}])";
  const build::Build build = apart(lent).read();
  const planning::ToolView tool = planned(build).tools.at(0);
  CHECK(tool.how == "borrowed in stage 1 and hired in stage 3");
  CHECK(tool.first_stage == 0);
  CHECK(tool.amount == minor(500));
}

TEST_CASE("sizes that a tool's name does not tell stand beside it") {
  const build::Build build = apart(R"(, "sizes": ["12 mm", "17 mm"], "hire": 1.00)").read();
  CHECK(planned(build).tools.at(0).name == "puller (12 mm and 17 mm)");
}

TEST_CASE("a second person stands in the list of tools with the stages and what for") {
  BuildText text{.removals = R"("wheel": {"name": "wheel", "hours_off": 0.5, "hours_on": 0.5,
                   "off": ["Raise it", {"do": "Lower it out", "helper": true}]})",
                 .jobs = R"("a": {"name": "a", "want": 9, "hours": 8, "helper": true},
                            "b": {"name": "b", "want": 5, "hours": 8, "removals": ["wheel"]},
                            "c": {"name": "c", "want": 2, "hours": 8})"};
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  REQUIRE(outcome.tools.size() == 1);
  CHECK(outcome.tools[0].name == "a second person");
  CHECK(outcome.tools[0].how == "needed in stages 1 and 2");
  CHECK(outcome.tools[0].used_for == std::vector<std::string>{"a", "wheel"});
  CHECK(outcome.warnings.empty());
}

/// Two jobs of 20 and 80 Nm; wrenches for the one, the other and both, and 60.00 to spend.
BuildText three_wrenches(const std::string& about_small = "") {
  return {
      .articles = R"("small": {"name": "small wrench", "kind": "tool", "range": ["10 Nm", "60 Nm"])" +
                  about_small + R"(, "offers": [{"supplier": "shop", "price": 30.00}]},
            "large": {"name": "large wrench", "kind": "tool", "range": ["40 Nm", "100 Nm"], "offers": [{"supplier": "shop", "price": 40.00}]},
            "wide": {"name": "wide wrench", "kind": "tool", "range": ["15 Nm", "100 Nm"], "offers": [{"supplier": "shop", "price": 50.00}]})",
      .jobs =
          R"("a": {"name": "a", "want": 9, "must": true, "hours": 4, "torques": [{"on": "nut", "value": "20 Nm", "source": "invented"}]},
                     "b": {"name": "b", "want": 5, "must": true, "hours": 4, "torques": [{"on": "cap", "value": "80 Nm", "source": "invented"}]})"};
}

TEST_CASE("one wrench that covers two torques is bought instead of two") {
  BuildText text = three_wrenches();
  text.opening = "60.00";
  text.amount = "0.00";
  const build::Build build = text.read();
  const planning::Outcome outcome = planned(build);
  REQUIRE(outcome.tools.size() == 1);
  CHECK(outcome.tools[0].id == "wide");
  CHECK(outcome.tools[0].used_for == std::vector<std::string>{"a", "b"});
  CHECK(outcome.stages[0].orders.at(0).lines.at(0).needed_by.size() == 2);
  CHECK(outcome.spent == minor(5000));
}

TEST_CASE("a wrench that is borrowed for one of two jobs is used") {
  const build::Build build =
      three_wrenches(R"(, "borrow": [{"from": "2027-01-01", "until": "2027-06-30"}])").read();
  const planning::Outcome outcome = planned(build);
  REQUIRE(outcome.tools.size() == 2);
  CHECK(outcome.tools[0].how == "borrowed in stage 1");
  CHECK(outcome.tools[1].id == "large");
  CHECK(outcome.spent == minor(4000));
}

TEST_CASE("a torque that no wrench covers stands in the list of tools as a gap") {
  BuildText text{
      .articles = R"("small": {"name": "small wrench", "kind": "tool", "range": ["8 Nm", "60 Nm"]})",
      .jobs = R"("a": {"name": "a", "want": 9, "hours": 1, "torques": [
                   {"on": "nut", "value": "61 Nm", "source": "invented"}, {"on": "cap", "value": "60 Nm", "source": "invented"}]})",
      .more = R"(, "on_hand": [{"article": "small"}])"};
  const build::Build build = text.read();
  planning::Planning planning = planning::plan(build);
  const auto& tools = std::get<planning::Outcome>(planning).tools;
  REQUIRE(tools.size() == 2);
  CHECK(tools[0].how == "owned");
  CHECK(tools[1].name == "torque wrench for 61 Nm");
  CHECK(tools[1].how == "not covered");
  CHECK(tools[1].first_stage == 0);
}
