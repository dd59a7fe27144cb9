#include "lib/report/text/compare.hpp"

#include <sstream>

#include "tests/lib/support/golden.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;

namespace {

const test::Golden compared_files("why");

build::Build skiff() { return compared_files.build("skiff.build"); }

planning::Changed changed(const std::string& text) {
  planning::Changed one{text, skiff()};
  REQUIRE(planning::change(one.build, text) == "");
  return one;
}

std::vector<budgets::Money> amounts() {
  std::vector<budgets::Money> all;
  for (int amount = 0; amount <= 120; amount += 20) all.push_back(budgets::Money::of_minor(100 * amount));
  return all;
}

void check_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

}  // namespace

TEST_CASE("a build beside itself under changes is told exactly as expected, in 80 columns") {
  const build::Build build = skiff();
  const planning::Comparison all = planning::compare(build, {
                                                                changed("amount=80"),
                                                                changed("want:cover-on=9"),
                                                                changed("price:oars=+200"),
                                                            });
  const std::string text = report::compare_text(all);
  CHECK(text == compared_files.expected("skiff-compare.txt", text));
  check_width(text);
  const std::string json = report::compare_json(all);
  CHECK(json == compared_files.expected("skiff-compare.json", json));
  CHECK(nlohmann::json::parse(json)["columns"].size() == 4);
}

TEST_CASE("an impossible column says what conflicts") {
  const build::Build build = skiff();
  const planning::Comparison all = planning::compare(build, {changed("amount=5")});
  const std::string text = report::compare_text(all);
  CHECK(text.find("B is impossible") != std::string::npos);
  CHECK(text.find("Hull survey (by 2027-03-31)") != std::string::npos);
  CHECK(nlohmann::json::parse(report::compare_json(all))["columns"][1]["status"] == "impossible");
}

TEST_CASE("a frontier is told exactly as expected, in 80 columns") {
  const build::Build build = skiff();
  const planning::FrontierReport frontier = planning::frontier(build, amounts());
  const std::string text = report::frontier_text(frontier);
  CHECK(text == compared_files.expected("skiff-frontier.txt", text));
  check_width(text);
  const std::string json = report::frontier_json(frontier);
  CHECK(json == compared_files.expected("skiff-frontier.json", json));
  CHECK(nlohmann::json::parse(json)["changes_complete_from"] == "0.00");
}
