#include "lib/report/text/risk.hpp"

#include <cmath>
#include <sstream>

#include "tests/lib/support/golden.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;

namespace {

const test::Golden risk_files("risk");

build::Build trike() { return risk_files.build("cargo-trike.build"); }

planning::RiskReport risk_of(const build::Build& build, std::int64_t samples = 10'000) {
  const planning::RiskAnswer answer = planning::risk(build, samples);
  REQUIRE(std::holds_alternative<planning::RiskReport>(answer));
  return std::get<planning::RiskReport>(answer);
}

void make_certain(build::Build& build) {
  for (build::Article& article : build.articles) {
    for (build::Offer& offer : article.offers) {
      offer.price.low = offer.price.high = offer.price.likely;
      offer.lead_spread.reset();
    }
  }
}

}  // namespace

TEST_CASE("the risk of a small build is told exactly as expected, on every compiler") {
  const build::Build build = trike();
  const std::string text = report::risk_text(risk_of(build));
  CHECK(text == risk_files.expected("cargo-trike.txt", text));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("the risk report for programs is exactly as expected, on every compiler") {
  const build::Build build = trike();
  const std::string text = report::risk_json(risk_of(build));
  CHECK(text == risk_files.expected("cargo-trike.json", text));
  const auto json = nlohmann::json::parse(text);
  CHECK(json["stages"].size() == 4);
  CHECK(json["samples"] == 10'000);
}

TEST_CASE("chances of a small build are those that its ranges give by hand") {
  // Stage 1 has 62.00 + 150.00, pays 9.00 for delivery and has to keep 40.00: it holds while the rack costs
  // at most 163.00 of 120.00 to 190.00, likely 135.00: 1 - 27^2 / (70 * 55). The rack is late from day 10 on;
  // lead 3 to 21 days, likely 7, rounded: (21 - 9.5)^2 / (18 * 14).
  const planning::RiskReport risk = risk_of(trike(), 100'000);
  const auto near = [](const budgets::Chance& chance, double exact) {
    return std::abs(chance.share() - exact) < 3 * chance.standard_error();
  };
  CHECK(near(risk.stages[0].holds, 1 - 729.0 / 3850));
  CHECK(near(risk.stages[0].in_time, 1 - 132.25 / 252));
}

TEST_CASE("a build without ranges is told that nothing is drawn") {
  build::Build build = trike();
  make_certain(build);
  const std::string text = report::risk_text(risk_of(build, 100));
  CHECK(text.find("0 of the plan's prices and 0 of its lead times are ranges") != std::string::npos);
  CHECK(text.find("Nothing is drawn: give prices or lead times") != std::string::npos);
  CHECK(text.find("All lead times of the plan are single figures.") != std::string::npos);
  CHECK(text.find("What carries the risk\n") == std::string::npos);
  CHECK(text.find("99.9") == std::string::npos);
}

TEST_CASE("planned cash with the allowance kept is the plans own with the allowances added") {
  const build::Build build = trike();
  const planning::RiskReport risk = risk_of(build, 100);
  const planning::Planning planning = planning::plan(build);
  const auto& outcome = std::get<planning::Outcome>(planning);
  budgets::Money allowances;
  for (std::size_t t = 0; t < outcome.stages.size(); ++t) {
    allowances += outcome.stages[t].allowance;
    CHECK(risk.stages[t].planned == outcome.stages[t].cash_after + allowances);
    CHECK(risk.stages[t].payday == outcome.stages[t].payday);
    CHECK(risk.stages[t].floor == outcome.stages[t].floor);
  }
  CHECK(allowances > budgets::Money());
}

TEST_CASE("a build whose musts cannot be met has a conflict and no risk") {
  build::Build build = trike();
  build.money.opening = build.money.keep_back;
  build.money.amount = {};
  for (build::Job& job : build.jobs) job.must = true;
  CHECK(std::holds_alternative<planning::Conflict>(planning::risk(build, 100)));
}

TEST_CASE("names cannot steer the terminal from a risk report") {
  build::Build build = trike();
  build.name = "bad\033[31m name";
  for (build::Article& article : build.articles) article.name = "bad\033[31m thing";
  CHECK(report::risk_text(risk_of(build, 100)).find('\033') == std::string::npos);
}
