#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::BuildText;
using test::planned;

namespace {

/// The reason why the job is left out; "" if it is not.
std::string reason(const BuildText& text, const std::string& job) {
  const build::Build build = text.read();
  for (const build::Diagnostic& one : planning::check(build)) CHECK(one.severity == build::Severity::warning);
  const planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Outcome>(planning));
  for (const planning::LeftOut& left : std::get<planning::Outcome>(planning).left_out) {
    if (left.job == job) return left.reason;
  }
  return "";
}

}  // namespace

TEST_CASE("a job dearer than all the money is told with both amounts") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 5, "hours": 1, "cost": 500.01})"};
  CHECK(
      reason(text, "a") ==
      "it costs at least 500.01 EUR with what it opens; at most 500.00 EUR can ever be spent on it in time");
}

TEST_CASE("a job that just fits the money is not left out") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 5, "hours": 1, "cost": 500.00})"};
  CHECK(reason(text, "a") == "");
}

TEST_CASE("a job that the rest of the plan leaves no money for says how much is short") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 9, "hours": 1, "cost": 300.00},
                            "b": {"name": "b", "want": 1, "hours": 1, "cost": 212.00})"};
  CHECK(reason(text, "b") ==
        "with the rest of the plan as it is, money would be short by 12.00 EUR, the least found, with it in "
        "stage 4 "
        "(bench 2027-04-04)");
}

TEST_CASE("a job without hours left for it says how long it takes") {
  BuildText text{
      .stages = "1",
      .jobs = R"("a": {"name": "a", "want": 9, "hours": 8}, "b": {"name": "b", "want": 1, "hours": 3})"};
  CHECK(reason(text, "b") ==
        "it takes 3 h with what it opens, and no stage it may be done in has the hours left for it");
}

TEST_CASE("a job nobody wants says so") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 0, "hours": 1, "cost": 1.00})"};
  CHECK(reason(text, "a") == "nothing is gained by it: its want is 0");
}

TEST_CASE("a job after one that is left out names it") {
  BuildText text{.jobs = R"("a": {"name": "job a", "want": 1, "hours": 1, "cost": 900.00},
                            "b": {"name": "b", "want": 1, "hours": 1, "after": ["a"]})"};
  CHECK(reason(text, "b") == "it comes after job a, which is left out");
}

TEST_CASE("a job that is not worth its stripping says so") {
  BuildText text{.bench = R"("hours": 10, "days_after_payday": 3, "bother": 100)",
                 .removals = R"("tank": {"name": "tank", "hours_off": 2, "hours_on": 2})",
                 .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "removals": ["tank"]})"};
  CHECK(reason(text, "a") == "it could be fitted in, but taking off and putting back outweighs it");
}

TEST_CASE("a job whose day comes after the plan says so") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "not_before": "2027-06-01"})"};
  CHECK(reason(text, "a") == "it may not be done before 2027-06-01, after the last bench date");
}

TEST_CASE("a job that does not fit the machine says so") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "mates": {"thread": "M8"}})",
                 .more = R"(, "fitted": {"old": {"name": "old", "mates": {"thread": "M10"}}})"};
  CHECK(reason(text, "a") == "with it, old (thread M10) and a (thread M8) would be on the machine together");
}

TEST_CASE("a job that clashes with what stays on the machine says so in the file's words") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1})",
                 .more = R"(, "fitted": {"stand": {"name": "stand"}},
                 "clashes": [{"between": ["a", "stand"], "unless": [], "why": "they touch"}])"};
  CHECK(reason(text, "a") == "with it, a and stand would be on the machine together: they touch");
}

TEST_CASE("a job whose article never arrives in time says so") {
  BuildText text{
      .articles =
          R"("x": {"name": "x", "kind": "part", "offers": [{"supplier": "shop", "price": 1.00, "lead_days": 200}]})",
      .jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "uses": [{"article": "x"}]})"};
  CHECK(reason(text, "a") == "something it needs cannot arrive in time");
}

TEST_CASE("a job longer than every stage it may be done in says how long the longest of them is") {
  BuildText text{
      .bench = R"("hours": 10, "days_after_payday": 3, "bother": 0, "stages": [{"stage": 2, "hours": 2}])",
      .jobs = R"("a": {"name": "a", "want": 9, "hours": 1},
                            "b": {"name": "b", "want": 5, "not_before": "2027-02-01", "by": "2027-02-28", "hours": 3})"};
  const build::Build build = text.read();
  const planning::Planning planning = planning::plan(build);
  const auto& outcome = std::get<planning::Outcome>(planning);
  REQUIRE(outcome.left_out.size() == 1);
  CHECK(outcome.left_out[0].reason ==
        "it takes 3 h with what it opens, and a stage it may be done in has at most 2 h");
}
