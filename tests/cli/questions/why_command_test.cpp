#include "tests/cli/support/ran.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using test::Ran;

namespace {

std::string skiff() { return test::golden_text("why/skiff.build"); }

Ran asked(std::vector<std::string> args, const std::string& input = skiff()) {
  args.insert(args.begin(), {"why", "-"});
  return test::run(args, input);
}

}  // namespace

TEST_CASE("why prints what holds a job and exits with 0") {
  const Ran ran = asked({"survey"});
  CHECK(ran.code == 0);
  CHECK(ran.err == "");
  CHECK(ran.out.find("Hull survey: why stage 2 (bench 2027-03-11) and not earlier?") == 0);
}

TEST_CASE("why as JSON tells the stage asked about") {
  const Ran ran = asked({"cover-on", "--stage", "3", "--json"});
  CHECK(ran.code == 0);
  const auto json = nlohmann::json::parse(ran.out);
  REQUIRE(json["stages"].size() == 1);
  CHECK(json["stages"][0]["stage"] == 3);
}

TEST_CASE("why refuses a job that is not there and a stage that does not come with 2") {
  const Ran ran = asked({"rowlock"});
  CHECK(ran.code == 2);
  CHECK(ran.err.find("no job 'rowlock'; did you mean 'rowlocks'?") != std::string::npos);
  CHECK(asked({"survey", "--stage", "5"}).code == 2);
  CHECK(asked({"survey", "--stage", "0"}).code == 2);
  CHECK(asked({"survey"}, "{").code == 2);
  CHECK(asked({}).code == 2);
}

TEST_CASE("why of a build that cannot be exits with 3 and says why") {
  std::string text = skiff();
  text.replace(text.find("\"cost\": 45.00"), 13, "\"cost\": 450.0");
  const Ran ran = asked({"varnish"}, text);
  CHECK(ran.code == 3);
  CHECK(ran.err.find("Hull survey") != std::string::npos);
}
