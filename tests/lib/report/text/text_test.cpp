#include "lib/report/text/text.hpp"

#include <sstream>

#include "lib/report/json/json.hpp"
#include "lib/text/columns.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;

namespace {

/// Two paydays, one order, one hired tool, one job left out.
BuildText example() {
  return {
      .stages = "2",
      .suppliers = R"("shop": {"name": "Corner Shop", "delivery": 4.00, "lead_days": 2})",
      .articles =
          R"("pads": {"name": "brake pads", "kind": "part", "offers": [{"supplier": "shop", "price": 30.00}]},
            "press": {"name": "press", "kind": "tool", "hire": 6.00})",
      .removals = R"("wheel": {"name": "wheel", "hours_off": 0.5, "hours_on": 0.5})",
      .jobs =
          R"("brake": {"name": "new pads", "want": 5, "must": true, "hours": 1, "removals": ["wheel"], "tools": ["press"],
              "uses": [{"article": "pads", "amount": 2}]},
            "engine": {"name": "engine", "want": 9, "hours": 5, "cost": 900.00})"};
}

std::string told(const planning::Outcome& outcome) {
  std::string all = report::text(outcome);
  return all.substr(0, all.find("\nTake care"));
}

}  // namespace

TEST_CASE("a plan reads as this page") {
  const build::Build build = example().read();
  CHECK(told(test::planned(build)) == R"(test build
2 stages, amounts in EUR, opening cash 100.00, at least 0.00 kept back.

Next: On 2027-01-01 (stage 1): pay 70.00 EUR and order 1 thing from Corner Shop;
      130.00 EUR is left.
Next: On 2027-01-04, 2 h at the bench: new pads.

Stage  Payday      Bench              In      Spent       Left  Hours
    1  2027-01-01  2027-01-04     100.00      70.00     130.00  2 of 10 h
    2  2027-02-01  2027-02-04     100.00       0.00     230.00  0 of 10 h

Stage 1: payday 2027-01-01, bench 2027-01-04
  Buy
    Corner Shop
      [ ] 2 brake pads                                                     60.00
          for new pads; arrives 2027-01-03
      delivery                                                              4.00
    hire: press                                                             6.00
    spent                                                                  70.00
  Do
    off/on  wheel, 1 h, for new pads
    job     new pads, 1 h, must
  Left, of which 0.00 must stay                                           130.00

Stage 2: payday 2027-02-01, bench 2027-02-04
  Nothing to buy or do.
  Left, of which 0.00 must stay                                           230.00

Left out
  - engine: it costs at least 900.00 EUR with what it opens; at most 300.00 EUR
    can ever be spent on it in time.

Tools
  - press: hired in stage 1, 6.00; for new pads.
)");
}

TEST_CASE("a brief plan is what to do next, a line a stage and the proof") {
  const build::Build build = example().read();
  const std::string page = report::text(test::planned(build), {.brief = true});
  CHECK(page.find("Next: On 2027-01-01 (stage 1)") != std::string::npos);
  CHECK(page.find("    2  2027-02-01") != std::string::npos);
  CHECK(page.find("Proven best") != std::string::npos);
  CHECK(page.find("Take care") == std::string::npos);
  CHECK(page.find("Stage 1: payday") == std::string::npos);
}

TEST_CASE("one stage can be printed alone") {
  const build::Build build = example().read();
  const std::string page = report::text(test::planned(build), {.stage = 2});
  CHECK(page ==
        "\nStage 2: payday 2027-02-01, bench 2027-02-04\n  Nothing to buy or do.\n  Left, of which 0.00 must "
        "stay"
        "                                           230.00\n");
}

TEST_CASE("no line is wider than the page") {
  const build::Build build = example().read();
  const planning::Outcome outcome = test::planned(build);
  for (const int width : {80, 100}) {
    std::istringstream lines(report::text(outcome, {.steps = true, .width = width}));
    for (std::string line; std::getline(lines, line);) CHECK(text::display_width(line) <= width);
  }
}

TEST_CASE("steps are printed when asked for") {
  const build::Build build = example().read();
  const planning::Outcome outcome = test::planned(build);
  CHECK(report::text(outcome).find("Take off wheel") == std::string::npos);
  CHECK(report::text(outcome, {.steps = true}).find("wheel: Take off wheel") != std::string::npos);
}

TEST_CASE("colours are escape sequences only when asked for") {
  const build::Build build = example().read();
  const planning::Outcome outcome = test::planned(build);
  CHECK(report::text(outcome).find('\033') == std::string::npos);
  CHECK(report::text(outcome, {.colour = true}).find("\033[1m") != std::string::npos);
}

TEST_CASE("the proof line tells what is proven") {
  planning::Outcome outcome;
  outcome.value_want_days = 4870;
  outcome.bound_want_days = 4870;
  CHECK(report::proof_line(outcome) ==
        "Proven best: this plan is worth 160.0 want-months, and no plan is worth more, nor as much for less "
        "money.");
  outcome.ties_proven = false;
  CHECK(report::proof_line(outcome) ==
        "Proven best: this plan is worth 160.0 want-months, and no plan is worth more.");
  outcome.proof = planning::Proof::stopped;
  outcome.bound_want_days = 4871;
  CHECK(report::proof_line(outcome) ==
        "Not proven best: this plan is worth 160.0 want-months; no plan is worth more than 160.1, at most "
        "0.1 percent "
        "more.");
  outcome.value_want_days = 0;
  CHECK(report::proof_line(outcome) ==
        "Not proven best: this plan is worth 0.0 want-months; no plan is worth more than 160.1.");
}

TEST_CASE("a plan that is not proven says what the gap means and whether more effort may pay") {
  planning::Outcome outcome;
  outcome.value_want_days = 4000;
  outcome.bound_want_days = 4000;
  CHECK(report::gap_sentence(outcome, false) == "");
  outcome.proof = planning::Proof::stopped;
  outcome.bound_want_days = 4371;
  CHECK(report::gap_sentence(outcome, false) ==
        "What that leaves open is at most what a job of want 5 gains by being done 75 days sooner; --effort "
        "thorough looks longer and may find a better plan, or prove that there is none.");
  outcome.end = budgets::make_date(2027, 4, 11);
  outcome.stages.emplace_back().bench = budgets::make_date(2027, 3, 2);  // 40 days before
  CHECK(report::gap_sentence(outcome, false) ==
        "What that leaves open is at most what 2 more jobs of want 5, done in the first stage, would bring; "
        "--effort thorough looks longer and may find a better plan, or prove that there is none.");
  outcome.bound_want_days = 4020;
  CHECK(report::gap_sentence(outcome, false) ==
        "What that leaves open is at most what a job of want 5 gains by being done 4 days sooner; --effort "
        "thorough may prove the plan, but can hardly better it.");
  outcome.bound_want_days = 4001;
  CHECK(
      report::gap_sentence(outcome, true) ==
      "What that leaves open is at most what a job of want 5 gains by being done 1 day sooner; this was the "
      "greatest effort, and more of it cannot be asked for.");
}

TEST_CASE("names in a plan cannot steer the terminal") {
  const build::Build build = example().read();
  planning::Outcome outcome = test::planned(build);
  outcome.stages[0].jobs[0].name = "new\033[2Jpads";
  const std::string page = report::text(outcome);
  CHECK(page.find('\033') == std::string::npos);
  CHECK(page.find("new?[2Jpads") != std::string::npos);
}

TEST_CASE("the JSON of a plan is the same bytes twice and holds money as text") {
  const build::Build build = example().read();
  const std::string first = report::json(test::planned(build)), second = report::json(test::planned(build));
  CHECK(first == second);
  CHECK(first.find("\"status\": \"proven\"") != std::string::npos);
  CHECK(first.find("\"spent\": \"70.00\"") != std::string::npos);
  CHECK(first.find("\"key\": \"pads@1\"") != std::string::npos);
  CHECK(first.find("\"how\": \"hired in stage 1\"") != std::string::npos);
}

TEST_CASE("the JSON of a refusal holds its diagnostics and exit code") {
  const std::string json =
      report::json({build::Diagnostic{build::Severity::error, "f", {3, 4}, "/jobs/a", "x\"y", "an id", "z"}});
  CHECK(json == R"({
  "report": 1,
  "status": "bad-input",
  "exit_code": 2,
  "diagnostics": [
    {
      "severity": "error",
      "file": "f",
      "line": 3,
      "column": 4,
      "pointer": "/jobs/a",
      "found": "x\"y",
      "expected": "an id",
      "nearest": "z"
    }
  ]
}
)");
}

TEST_CASE("the JSON of a conflict and of no plan carry their exit codes") {
  CHECK(report::json(planning::Conflict{{"a"}, {"It cannot be."}}) ==
        "{\n  \"report\": 1,\n  \"status\": \"impossible\",\n  \"exit_code\": 3,\n  \"from\": null,\n  "
        "\"jobs\": [\n    \"a\"\n "
        " ],\n"
        "  \"sentences\": [\n    \"It cannot be.\"\n  ]\n}\n");
  CHECK(report::json(planning::NoPlan{{7, 3}}) ==
        "{\n  \"report\": 1,\n  \"status\": \"no-plan\",\n  \"exit_code\": 4,\n  \"work\": {\n    \"steps\": "
        "7,\n"
        "    \"states\": 3\n  }\n}\n");
}
