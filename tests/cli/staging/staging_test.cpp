#include "cli/staging/staging.hpp"

#include <atomic>
#include <sstream>

#include "cli/version.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace fettlefund;
using Json = nlohmann::json;

namespace {

/// One run of the program.
struct Run {
  explicit Run(const std::string& text, const std::vector<std::string>& words = {},
               const std::atomic<bool>* stop = nullptr) {
    std::istringstream in(text);
    std::ostringstream out_stream, err_stream;
    cli::Surroundings around;
    around.stop = stop;
    code = cli::run_staging(words, in, out_stream, err_stream, around);
    out = out_stream.str();
    err = err_stream.str();
  }
  int code = 0;
  std::string out, err;
};

constexpr const char* two_tasks =
    R"({"stages": [{"cash_in": 50, "hours": 4}, {"cash_in": 50, "hours": 4}],
        "tasks": [{"cost": 60, "hours": 2, "value": 5}, {"cost": 30, "hours": 3, "value": 4}]})";

}  // namespace

TEST_CASE("the solver answers a problem from standard input with its proof") {
  // 30 of 50 for the second task at once, worth 4 twice; then 60 of 70 for the first, worth 5 once
  const Run run(two_tasks);
  CHECK(run.code == 0);
  CHECK(run.err == "");
  const Json answer = Json::parse(run.out);
  CHECK(answer["status"] == "proven");
  CHECK(answer["value"] == 13);
  CHECK(answer["bound"] == 13);
  CHECK(answer["tasks"] == Json({1, 0}));
  CHECK(answer["once"] == Json::array());
  CHECK(answer["stages"][0] == Json({{"spent", 30}, {"left", 20}, {"hours", 3}}));
  CHECK(answer["stages"][1] == Json({{"spent", 60}, {"left", 10}, {"hours", 2}}));
  CHECK(answer["verified"] == true);
  CHECK(Run(two_tasks).out == run.out);
}

TEST_CASE("once-items are paid in the first stage that uses them and tasks without a stage are null") {
  const Run run(R"({"stages": [{"cash_in": 50, "hours": 4}], "once": [{"cost": 15}],
    "tasks": [{"cost": 30, "hours": 2, "value": 5, "once": [0]}, {"cost": 30, "hours": 2, "value": 4}]})");
  const Json answer = Json::parse(run.out);
  CHECK(answer["tasks"] == Json::array({0, nullptr}));
  CHECK(answer["once"] == Json::array({0}));
  CHECK(answer["stages"][0]["spent"] == 45);
}

TEST_CASE("musts that cannot all be done end with 3 and are named") {
  const Run run(R"({"stages": [{"cash_in": 50, "hours": 4}],
    "tasks": [{"cost": 40, "hours": 1, "value": 1, "must": true}, {"cost": 1, "hours": 1, "value": 1},
              {"cost": 40, "hours": 1, "value": 1, "must": true}]})");
  CHECK(run.code == 3);
  const Json answer = Json::parse(run.out);
  CHECK(answer["status"] == "impossible");
  CHECK(answer["musts"] == Json({0, 2}));
  CHECK(answer["tasks"].is_null());
}

TEST_CASE("bad input is told with its place and ends with 2") {
  CHECK(Run(R"({"stages": [{"cash_in": 1, "hours": 1}], "tasks": [{"cost": 1}]})").err ==
        "fettlefund-staging: standard input: tasks[0].hours: is missing\n");
  CHECK(Run(R"({"stages": 3})").code == 2);
  CHECK(Run("").code == 2);
  CHECK(Run("", {"no-such-file.json"}).err == "fettlefund-staging: cannot read no-such-file.json\n");
  const Run cycle(R"({"stages": [{"cash_in": 1, "hours": 1}], "tasks": [
    {"cost": 0, "hours": 0, "value": 1, "after": [1]}, {"cost": 0, "hours": 0, "value": 1, "after": [0]}]})");
  CHECK(cycle.code == 2);
  CHECK(cycle.err.starts_with("fettlefund-staging: standard input: "));
}

TEST_CASE("wrong usage is told with where its help is and the help stands alone") {
  const std::string hint = "\nTry 'fettlefund-staging --help'.\n";
  CHECK(Run("", {"--effort", "much"}).err ==
        "fettlefund-staging: --effort: much not in {quick,normal,thorough}" + hint);
  CHECK(Run("", {"--steps", "0"}).code == 2);
  CHECK(Run("", {"--steps", "many"}).code == 2);
  const Run wide("", {"--wide"});
  CHECK(wide.code == 2);
  CHECK(wide.err.ends_with("--wide" + hint));
  CHECK(Run("", {"one.json", "two.json"}).code == 2);
  CHECK(Run("", {"--help"}).out == cli::staging_help());
  CHECK(cli::staging_help().find("no more than so many steps of the effort's") != std::string::npos);
  CHECK(Run("", {"--version"}).out == cli::version_text() + "\n");
}

TEST_CASE("asked to stop the solver answers with what it has") {
  const std::atomic<bool> stop{true};
  const Run run(two_tasks, {}, &stop);
  CHECK((run.code == 0 || run.code == 4));
  CHECK(Json::parse(run.out).contains("status"));
}
