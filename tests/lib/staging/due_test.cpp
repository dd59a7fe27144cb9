#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::Money;
using test::BuildText;
using test::planned;

namespace {

Money eur(std::int64_t minor) { return Money::of_minor(minor); }

/// Pads behind a wheel, whose pin breaks each time; the bearings behind it were due in 2025. Their job is too
/// long for what the bench has left, so that nothing but the pads is done.
BuildText wheel(const std::string& bearings_job, const std::string& more_articles = "") {
  return {
      .stages = "1",
      .bench = R"("hours": 3, "days_after_payday": 3, "bother": 0)",
      .articles =
          R"("pads": {"name": "pads", "kind": "part", "offers": [{"supplier": "shop", "price": 30.00}]},
      "pin": {"name": "pin", "kind": "part", "offers": [{"supplier": "shop", "price": 2.00}]},
      "grease": {"name": "grease", "kind": "consumable", "unit": "ml", "pack": 100, "offers": [{"supplier": "shop", "price": 8.00}, {"supplier": "shop", "price": 7.50}]},
      "bearings": {"name": "bearings", "kind": "part", "offers": [{"supplier": "shop", "price": 20.00}]})" +
          more_articles,
      .removals =
          R"("wheel": {"name": "wheel", "hours_off": 0.5, "hours_on": 0.5, "one_use": [{"article": "pin"}]},
             "hub": {"name": "hub", "hours_off": 0.25, "hours_on": 0.25, "needs": ["wheel"]})",
      .jobs =
          R"("brake": {"name": "brake", "want": 9, "must": true, "hours": 1, "removals": ["wheel"], "uses": [{"article": "pads"}, {"article": "grease", "amount": 60}]},
      "bearings": {"name": "bearings", "hours": 2.5, )" +
          bearings_job + "}",
      .more =
          R"(, "fitted": {"old": {"name": "old bearings", "since": "2020-01-01", "life_years": 5, "replaced_by": ["bearings"], "reached_by": ["wheel"]}})"};
}

/// What the first stage tells of the bearings.
planning::DuePart told(const BuildText& text) {
  const build::Build build = text.read();
  planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Outcome>(planning));
  const auto& parts = std::get<planning::Outcome>(planning).stages[0].while_off;
  REQUIRE(parts.size() == 1);
  return parts[0];
}

}  // namespace

TEST_CASE("a due part not chosen is listed with the goods and hours it alone would take") {
  const planning::DuePart part = told(wheel(R"("removals": ["wheel"], "uses": [{"article": "bearings"}])"));
  CHECK_FALSE(part.chosen);
  CHECK_FALSE(part.renewed_in);
  CHECK(part.overdue_months == 24);
  CHECK(part.extra_money == eur(2000));  // the pin is spoilt anyway
  CHECK(part.extra_minutes == 150);      // the wheel is off anyway
}

TEST_CASE("what is left in a pack that the stage opens anyway costs a due part nothing") {
  const std::string job = R"("removals": ["wheel"], "uses": [{"article": "grease", "amount": )";
  CHECK(told(wheel(job + "40}]")).extra_money == eur(0));
  CHECK(told(wheel(job + "40.001}]")).extra_money == eur(750));  // one pack more, at the cheaper offer
  CHECK(told(wheel(job + "141}]")).extra_money == eur(1500));
}

TEST_CASE("a removal that only the due part needs counts its time and what it spoils") {
  BuildText text = wheel(R"("removals": ["hub"], "uses": [{"article": "bearings"}])");
  text.removals +=
      R"(, "cap": {"name": "cap", "hours_off": 0.1, "hours_on": 0.1, "one_use": [{"article": "pin"}]})";
  CHECK(told(text).extra_minutes == 150 + 30);
  text.jobs.replace(text.jobs.find("[\"hub\"]"), 7, R"(["hub", "cap"])");
  const planning::DuePart part = told(text);
  CHECK(part.extra_minutes == 150 + 30 + 12);
  CHECK(part.extra_money == eur(2000 + 200));
}

TEST_CASE("a tool that only the due part uses is counted at the cheaper of hire and purchase") {
  const std::string job = R"("removals": ["wheel"], "cost": 3.00, "tools": ["puller"])";
  const auto with = [&](const std::string& ways) {
    return told(wheel(job, R"(, "puller": {"name": "puller", "kind": "tool")" + ways + "}")).extra_money;
  };
  CHECK(with(R"(, "hire": 6.00, "offers": [{"supplier": "shop", "price": 6.01}])") == eur(300 + 600));
  CHECK(with(R"(, "hire": 6.00, "offers": [{"supplier": "shop", "price": 5.99}])") == eur(300 + 599));
  CHECK(with(R"(, "borrow": [{"from": "2027-01-04", "until": "2027-01-04"}])") == eur(300));
}

TEST_CASE("a due part whose goods cannot arrive in time has no money told") {
  const planning::DuePart part = told(wheel(
      R"("removals": ["wheel"], "uses": [{"article": "late"}])",
      R"(, "late": {"name": "late", "kind": "part", "offers": [{"supplier": "shop", "price": 1.00, "lead_days": 60}]})"));
  CHECK_FALSE(part.extra_money);
  CHECK(part.extra_minutes == 150);
}

TEST_CASE("a due part that the plan renews is told with what it takes beyond the rest of its stage") {
  BuildText text = wheel(R"("removals": ["wheel"], "uses": [{"article": "bearings"}])");
  text.bench = R"("hours": 10, "days_after_payday": 3, "bother": 0)";
  const planning::DuePart part = told(text);
  CHECK(part.chosen);
  CHECK(part.renewed_in == 0);
  CHECK(part.extra_money == eur(2000));
  CHECK(part.extra_minutes == 150);
}

TEST_CASE("a due part that lies open before the stage that renews it names that stage") {
  BuildText text =
      wheel(R"("removals": ["wheel"], "not_before": "2027-02-01", "uses": [{"article": "bearings"}])");
  text.stages = std::string(1, '2');
  text.jobs.replace(text.jobs.find("\"must\": true"), 12, R"("must": true, "by": "2027-01-10")");
  text.bench = R"("hours": 4, "days_after_payday": 3, "bother": 0)";
  const planning::DuePart part = told(text);
  CHECK_FALSE(part.chosen);
  CHECK(part.renewed_in == 1);
}

TEST_CASE("a tool that an earlier stage buys costs a due part nothing more") {
  const auto extra = [](const std::string& tools_of_an_earlier_job) {
    BuildText text = wheel(
        R"("removals": ["wheel"], "tools": ["puller"])",
        R"(, "puller": {"name": "puller", "kind": "tool", "offers": [{"supplier": "shop", "price": 12.00}]})");
    text.stages = std::string(1, '2');
    text.jobs.replace(text.jobs.find("\"must\": true"), 12, R"("must": true, "not_before": "2027-02-01")");
    text.jobs += R"(, "early": {"name": "early", "must": true, "by": "2027-01-31", "hours": 3)" +
                 tools_of_an_earlier_job + "}";
    const build::Build build = text.read();
    planning::Planning planning = planning::plan(build);
    REQUIRE(std::holds_alternative<planning::Outcome>(planning));
    const auto& parts = std::get<planning::Outcome>(planning).stages[1].while_off;
    REQUIRE(parts.size() == 1);
    return parts[0].extra_money;
  };
  CHECK(extra("") == eur(1200));
  CHECK(extra(R"(, "tools": ["puller"])") == eur(0));
}

TEST_CASE("a part that is renewed is not told as due when it lies open later") {
  BuildText text = wheel(R"("removals": ["wheel"], "must": true, "by": "2027-01-31")");
  text.stages = std::string(1, '2');
  text.jobs.replace(text.jobs.find("\"must\": true"), 12, R"("must": true, "not_before": "2027-02-01")");
  text.bench = R"("hours": 4, "days_after_payday": 3, "bother": 0)";
  const build::Build build = text.read();
  planning::Planning planning = planning::plan(build);
  REQUIRE(std::holds_alternative<planning::Outcome>(planning));
  const auto& stages = std::get<planning::Outcome>(planning).stages;
  REQUIRE(stages[0].while_off.size() == 1);
  CHECK(stages[0].while_off[0].chosen);
  REQUIRE(stages[1].removals.size() == 1);
  CHECK(stages[1].while_off.empty());
}

TEST_CASE("a part is told as due where it is due before the plan ends") {
  const auto told_of = [](const std::string& since) {
    BuildText text = wheel(R"("removals": ["wheel"])");
    text.more.replace(text.more.find("2020-01-01"), 10, since);
    const build::Build build = text.read();
    planning::Planning planning = planning::plan(build);
    REQUIRE(std::holds_alternative<planning::Outcome>(planning));
    return std::get<planning::Outcome>(planning).stages[0].while_off.size();
  };
  CHECK(told_of("2022-01-31") == 1);  // due on the last day
  CHECK(told_of("2022-02-01") == 0);  // the payday that ends the plan
}
