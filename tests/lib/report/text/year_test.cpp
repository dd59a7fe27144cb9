#include "lib/report/text/year.hpp"

#include "tests/lib/support/build_text.hpp"
#include "tests/lib/support/log_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using test::BuildText;
using test::cents;
using test::day;

namespace {

BuildText lamp_and_seat() {
  BuildText text;
  text.suppliers = R"("shop": {"name": "Corner Shop", "lead_days": 2}, "post": {"name": "Post Parts"})";
  text.articles = R"("lamp": {"name": "Lamp", "kind": "part", "offers": [
      {"supplier": "shop", "price": 60},
      {"supplier": "post", "price": {"low": 50, "likely": 55, "high": 58}, "lead_days": 9, "until": "2027-03-01"}]},
    "seat": {"name": "Seat", "kind": "part", "offers": [{"supplier": "shop", "price": 150}]})";
  text.jobs = R"("light": {"name": "Fit the lamp", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]},
    "sit": {"name": "Fit the seat", "want": 6, "hours": 2, "uses": [{"article": "seat"}]},
    "wash": {"name": "Wash it", "want": 1, "hours": 1})";
  return text;
}

log::Log bought_otherwise() {
  return test::log_of({{day("2027-01-01"), log::Bought{"lamp@1", 2, cents(12400), {}, "post"}},
                       {day("2027-01-02"), log::Bought{"seat@1", 1, cents(14250), {}}},
                       {day("2027-01-04"), log::Fitted{"light", 90}},
                       {day("2027-01-04"), log::Begun{"sit", 30, 90}},
                       {day("2027-01-05"), log::GivenUp{"wash"}},
                       {day("2027-01-05"), log::Counted{cents(100)}}});
}

void replace(std::string& text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("prices really paid are offered as lines that the build file reads") {
  BuildText text = lamp_and_seat();
  const build::Build build = text.read();
  const log::Log log = bought_otherwise();
  CHECK(report::prices_text(planning::year_of(build, log, day("2027-01-05"))) ==
        "// Offers with the prices really paid. Paste each in place of its article's offer of that\n"
        "// supplier; the build file is not changed by this command.\n"
        "// lamp: 62.00 on 2027-01-01, likely 55.00\n"
        R"({"supplier": "post", "price": {"low": "50.00", "likely": "62.00", "high": "62.00"}, )"
        R"("lead_days": 9, "until": "2027-03-01"})"
        "\n"
        "// seat: 142.50 on 2027-01-02, likely 150.00\n"
        R"({"supplier": "shop", "price": "142.50"})"
        "\n");
  replace(
      text.articles,
      R"({"supplier": "post", "price": {"low": 50, "likely": 55, "high": 58}, "lead_days": 9, "until": "2027-03-01"})",
      R"({"supplier": "post", "price": {"low": "50.00", "likely": "62.00", "high": "62.00"}, "lead_days": 9, "until": "2027-03-01"})");
  replace(text.articles, R"({"supplier": "shop", "price": 150})",
          R"({"supplier": "shop", "price": "142.50"})");
  const build::Build pasted = text.read();
  CHECK(report::prices_text(planning::year_of(pasted, log, day("2027-01-05"))) ==
        "Every price paid up to 2027-01-05 is the build file's likely one.\n");
}

TEST_CASE("a year for programs has its keys in order and its money adds up") {
  const build::Build build = lamp_and_seat().read();
  const auto json = nlohmann::ordered_json::parse(
      report::year_json(planning::year_of(build, bought_otherwise(), day("2027-01-05"))));
  std::vector<std::string> keys;
  for (const auto& [key, value] : json.items()) keys.push_back(key);
  CHECK(keys == std::vector<std::string>{"report", "status", "exit_code", "build", "currency", "first",
                                         "until", "money", "planned", "paid", "suppliers", "kinds", "stages",
                                         "jobs", "shared", "prices", "who"});
  CHECK(json["who"].empty());
  // 100.00 in hand and 100.00 on the payday, less 124.00 and 142.50, and 1.00 was counted
  CHECK(json["money"].dump() == R"({"brought":"200.00","moved_in":"0.00","moved_out":"0.00","paid":"266.50",)"
                                R"("counted_on":"2027-01-05","found_by_counting":"67.50","cash":"1.00"})");
  CHECK(json["jobs"][0].dump() ==
        R"({"id":"light","name":"Fit the lamp","planned":"110.00","paid":"124.00","minutes_planned":60,)"
        R"("minutes_taken":90,"minutes_begun":null,"fitted":"2027-01-04","given_up":null})");
  CHECK(json["jobs"][1]["minutes_begun"] == 30);
  CHECK(json["jobs"][2]["given_up"] == "2027-01-05");
  CHECK(json["prices"][1].dump() ==
        R"({"article":"seat","supplier":"shop","likely":"150.00","paid":"142.50","date":"2027-01-02"})");
}

TEST_CASE("the year's bench time tells what is begun and what is given up") {
  const build::Build build = lamp_and_seat().read();
  const std::string text = report::year_text(planning::year_of(build, bought_otherwise(), day("2027-01-05")));
  CHECK(text.find("  Fit the seat                            2 h    0.5 h   begun\n") != std::string::npos);
  CHECK(text.find("  Wash it                                 1 h            given up on 2027-01-05\n") !=
        std::string::npos);
}
