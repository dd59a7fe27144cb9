#include "lib/report/text/why.hpp"

#include <sstream>

#include "tests/lib/support/golden.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;

namespace {

const test::Golden asked_files("why");

planning::WhyReport ask(const planning::Standing& standing, const std::string& job, int stage = 0) {
  const planning::WhyAnswer answer = planning::why(standing, job, stage);
  REQUIRE(std::holds_alternative<planning::WhyReport>(answer));
  return std::get<planning::WhyReport>(answer);
}

}  // namespace

TEST_CASE("why is told exactly as expected for jobs held by money, hours, delivery and fit, in 80 columns") {
  const planning::Standing skiff{asked_files.build("skiff.build"), {}, {}};
  std::string text;
  for (const char* job : {"varnish", "rowlocks", "new-oars", "cover-on", "survey", "gilding"}) {
    text += report::why_text(ask(skiff, job)) + "\n";
  }
  text += report::why_text(ask(skiff, "cover-on", 1));
  CHECK(text == asked_files.expected("skiff.txt", text));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("why for programs is exactly as expected") {
  const planning::Standing skiff{asked_files.build("skiff.build"), {}, {}};
  const std::string text = report::why_json(ask(skiff, "cover-on"));
  CHECK(text == asked_files.expected("skiff.json", text));
  const auto json = nlohmann::json::parse(text);
  CHECK(json["stage"].is_null());
  CHECK(json["stages"].size() == 4);
  CHECK(json["stages"][2]["cash"]["moves"]["at_most"] == "43.70");
}
