#include "lib/staging/demands.hpp"

#include "lib/staging/ids.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;

namespace {

const std::string wrenches = R"(
  "big": {"name": "big wrench", "kind": "tool", "range": ["40 Nm", "200 Nm"], "offers": [{"supplier": "shop", "price": 90.00}]},
  "mid": {"name": "mid wrench", "kind": "tool", "range": ["20 Nm", "110 Nm"], "offers": [{"supplier": "shop", "price": 50.00}]},
  "own": {"name": "own wrench", "kind": "tool", "range": ["5 Nm", "25 Nm"]},
  "rent": {"name": "rented wrench", "kind": "tool", "range": ["150 Nm", "400 Nm"], "hire": 6.00})";

build::Build with_torque(const std::string& value, const std::string& more = "") {
  return BuildText{
      .articles = wrenches,
      .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "torques": [{"on": "nut", "value": ")" + value +
              R"(", "source": "the maker's manual"}])" + more + "}",
      .more = R"(, "on_hand": [{"article": "own"}])"}
      .read();
}

std::string tools_for(const std::string& value, const std::string& more = "") {
  const build::Build build = with_torque(value, more);
  std::string ids;
  const planning::Demands demands = planning::demands_of(build);
  for (const int tool : demands.jobs[0].tools) {
    ids += build.articles[static_cast<std::size_t>(tool)].id + " ";
  }
  for (const std::vector<int>& any : demands.jobs[0].any_tools) {
    ids += "any of:";
    for (const int tool : any) ids += " " + build.articles[static_cast<std::size_t>(tool)].id;
  }
  return ids;
}

}  // namespace

TEST_CASE("a torque takes an owned wrench before one that costs") {
  CHECK(tools_for("20 Nm") == "own ");
  CHECK(tools_for("25 Nm") == "own ");  // both ends of the range count
}

TEST_CASE("a torque takes the wrench that covers it, and any of several") {
  CHECK(tools_for("26 Nm") == "mid ");
  CHECK(tools_for("111 Nm") == "big ");
  CHECK(tools_for("250 Nm") == "rent ");
  CHECK(tools_for("80 lbf ft") == "any of: big mid");  // 108.5 N m
  CHECK(tools_for("82 lbf ft") == "big ");             // 111.2 N m
  CHECK(tools_for("160 Nm") == "any of: big rent");
}

TEST_CASE("a wrench that is on its way leaves the choice to the plan") {
  build::Build build = with_torque("80 lbf ft");
  const int mid = planning::find_id(build.articles, "mid"), big = planning::find_id(build.articles, "big");
  build.on_hand = {{"mid", 1000, {}, budgets::make_date(2027, 2, 1)}};
  CHECK(planning::demands_of(build).jobs[0].tools.empty());
  CHECK(planning::demands_of(build).jobs[0].any_tools == std::vector<std::vector<int>>{{big, mid}});
  build.on_hand[0].arrives.reset();
  CHECK(planning::demands_of(build).jobs[0].tools == std::vector<int>{mid});
}

TEST_CASE("a listed wrench that covers the torque is enough") {
  CHECK(tools_for("60 Nm", R"(, "tools": ["big"])") == "big ");
  build::Build build = with_torque("80 lbf ft", R"(, "tools": ["big"])");
  build.on_hand = {{"mid", 1000, {}, {}}};  // it would do as well
  CHECK(planning::demands_of(build).jobs[0].tools ==
        std::vector<int>{planning::find_id(build.articles, "big")});
}

TEST_CASE("a torque that no wrench covers is kept to be told") {
  const build::Build build = with_torque("500 Nm");
  const planning::Demand demand = planning::demands_of(build).jobs[0];
  CHECK(demand.tools.empty());
  REQUIRE(demand.uncovered.size() == 1);
  CHECK(demand.uncovered[0].value == "500 Nm");
}

TEST_CASE("an article that serves a rule is bought for the job that the rule reminds of") {
  const build::Build build =
      BuildText{.articles = R"("pins": {"name": "pins", "kind": "part", "serves": ["split-pin"],
                               "offers": [{"supplier": "shop", "price": 1.00}]})",
                .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "tags": ["split pin"]},
                           "b": {"name": "b", "want": 1, "hours": 1, "tags": ["split pin"], "uses": [{"article": "pins", "amount": 3}]})"}
          .read();
  const planning::Demands demands = planning::demands_of(build);
  REQUIRE(demands.jobs[0].articles.size() == 1);
  CHECK(demands.jobs[0].articles[0].by_rule == demands.jobs[0].articles[0].amount);
  CHECK(demands.jobs[0].articles[0].why != "");
  REQUIRE(demands.jobs[1].articles.size() == 1);
  CHECK(demands.jobs[1].articles[0].amount == 3000);
  CHECK(demands.jobs[1].articles[0].by_rule == 0);
}

TEST_CASE("an article used twice by a job is one demand") {
  const build::Build build =
      BuildText{.articles = R"("oil": {"name": "oil", "kind": "consumable", "unit": "ml", "pack": 500,
                               "offers": [{"supplier": "shop", "price": 5.00}]})",
                .jobs = R"("a": {"name": "a", "want": 1, "hours": 1,
                           "uses": [{"article": "oil", "amount": 100}, {"article": "oil", "amount": 50}]})"}
          .read();
  const planning::Demand demand = planning::demands_of(build).jobs[0];
  REQUIRE(demand.articles.size() == 1);
  CHECK(demand.articles[0].amount == 150'000);
}
