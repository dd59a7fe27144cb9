#include "lib/outcome/plan.hpp"
#include "tests/lib/support/build_fixture.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

// What the staging problem takes from the build.

using namespace fettlefund;
using budgets::make_date;
using budgets::Money;
using test::BuildText;

namespace {

/// An evening of two hours each Tuesday, paydays on the first of the month: 5, 12, 19 and 26 January 2027.
BuildText evenings_for(const std::string& borrow) {
  return {.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}], "bother": 0)",
          .articles = R"("press": {"name": "press", "kind": "tool", "hire": 30, "borrow": [)" + borrow + "]}",
          .jobs = R"("a": {"name": "a", "want": 5, "hours": 1, "tools": ["press"]})"};
}

bool lent_for_the_first_stage(const std::string& from, const std::string& until) {
  const build::Build build =
      evenings_for(R"({"from": ")" + from + R"(", "until": ")" + until + R"("})").read();
  return planning::to_staging(build).problem.tools.at(0).free.at(0) != 0;
}

}  // namespace

TEST_CASE("a tool is lent for a stage where it is lent for all of its sessions") {
  CHECK(lent_for_the_first_stage("2027-01-05", "2027-01-26"));
  CHECK_FALSE(lent_for_the_first_stage("2027-01-05", "2027-01-25"));
  CHECK_FALSE(lent_for_the_first_stage("2027-01-06", "2027-01-26"));
}

TEST_CASE("a day belongs to the stage up to its last session") {
  const build::Build build = evenings_for("").read();
  const planning::Staging staging = planning::to_staging(build);
  CHECK(planning::stage_on(staging, make_date(2027, 1, 26)) == 0);
  CHECK(planning::stage_on(staging, make_date(2027, 1, 27)) == -1);
  CHECK(planning::stage_on(staging, make_date(2027, 2, 1)) == 1);
}

TEST_CASE("what goes off is used up to its days after opening and bought anew from then on") {
  const auto oil_bought = [](const std::string& opened) {
    const build::Build build =
        BuildText{
            .stages = "1",
            .articles = R"("oil": {"name": "oil", "kind": "consumable", "keeps_days": 30,
                             "offers": [{"supplier": "shop", "price": 8.00}]})",
            .jobs =
                R"("a": {"name": "a", "want": 5, "hours": 1, "uses": [{"article": "oil", "amount": 0.5}]})",
            .more = R"(, "on_hand": [{"article": "oil", "amount": 0.5, "opened": ")" + opened + "\"}]"}
            .read();
    return test::planned(build).spent;
  };
  CHECK(oil_bought("2026-12-05") == Money());               // keeps up to 4 January, the bench date
  CHECK(oil_bought("2026-12-04") == Money::of_minor(800));  // up to the day before
}

TEST_CASE("a price that is a range is planned as the likely one") {
  const build::Build build =
      BuildText{.articles = R"("lamp": {"name": "lamp", "kind": "part",
                  "offers": [{"supplier": "shop", "price": {"low": 20, "likely": 25, "high": 60}}]})",
                .jobs = R"("a": {"name": "a", "want": 5, "hours": 1, "uses": [{"article": "lamp"}]})"}
          .read();
  CHECK(test::planned(build).spent == Money::of_minor(2500));
}
