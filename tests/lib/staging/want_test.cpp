#include "lib/staging/want.hpp"

#include "lib/staging/choices.hpp"
#include "tests/lib/support/build_text.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using budgets::Date;
using budgets::make_date;
using test::BuildText;

namespace {

build::Fitted shoes() {
  build::Fitted fitted;
  fitted.since = make_date(2020, 1, 1);
  fitted.life_months = 60;  // 1827 days, due 2025-01-01
  return fitted;
}

}  // namespace

TEST_CASE("a service life of months is clipped to the length of the month") {
  build::Fitted fitted;
  fitted.since = make_date(2024, 10, 31);
  fitted.life_months = 4;
  CHECK(planning::due_date(fitted) == make_date(2025, 2, 28));
  fitted.life_months.reset();
  CHECK_FALSE(planning::due_date(fitted).has_value());
}

TEST_CASE("the want of a due part grows by one for each tenth of its life begun since") {
  const build::Fitted fitted = shoes();
  const Date due = make_date(2025, 1, 1);
  CHECK(planning::due_want(fitted, due - 1) == 0);
  CHECK(planning::due_want(fitted, due) == 3);
  CHECK(planning::due_want(fitted, due + 1) == 4);
  CHECK(planning::due_want(fitted, due + 182) == 4);
  CHECK(planning::due_want(fitted, due + 183) == 5);  // a tenth is 182.7 days
  CHECK(planning::due_want(fitted, due + 1097) == 10);
  CHECK(planning::due_want(fitted, due + 9000) == 10);
}

TEST_CASE("whole months between two days are rounded down on both sides of zero") {
  CHECK(planning::months_between(make_date(2025, 1, 15), make_date(2025, 3, 14)) == 1);
  CHECK(planning::months_between(make_date(2025, 1, 15), make_date(2025, 3, 15)) == 2);
  CHECK(planning::months_between(make_date(2025, 3, 15), make_date(2025, 1, 16)) == -2);
  CHECK(planning::months_between(make_date(2025, 1, 31), make_date(2025, 2, 28)) == 1);
}

TEST_CASE("worth is want times the days from bench date to the end") {
  const build::Build build = BuildText{.jobs = R"("a": {"name": "a", "want": 7, "hours": 1})"}.read();
  const planning::Calendar calendar = planning::calendar_of(build.money);
  const auto stages = planning::stages_of(build, calendar);
  const auto worth = planning::worth_of(build, 0, stages, calendar.end);
  CHECK(worth[3] == 7 * 60 * (make_date(2027, 4, 30) - make_date(2027, 4, 4)));
  CHECK(worth[0] - worth[1] == 7 * 60 * (stages[1].bench - stages[0].bench));
}

TEST_CASE("worth counts from the last session of a stage") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 7, "hours": 1})"};
  text.bench = R"("sessions": [{"weekday": "tuesday", "hours": 2}], "bother": 0)";
  const build::Build build = text.read();
  const planning::Calendar calendar = planning::calendar_of(build.money);
  const auto stages = planning::stages_of(build, calendar);
  REQUIRE(stages[3].bench == make_date(2027, 4, 6));
  const auto worth = planning::worth_of(build, 0, stages, calendar.end);
  CHECK(worth[3] == 7 * 60 * (make_date(2027, 4, 30) - make_date(2027, 4, 27)));
}

TEST_CASE("a job is wanted as much as itself or as what it renews on each day") {
  const build::Build build =
      BuildText{.jobs = R"("a": {"name": "a", "want": 3, "hours": 1}, "b": {"name": "b", "hours": 1})",
                .more = R"(, "fitted": {"old": {"name": "old", "since": "2022-04-20", "life_years": 5,
                           "replaced_by": ["a"]}, "older": {"name": "older", "since": "2022-04-20",
                           "life_years": 5, "replaced_by": ["b"]}})"}
          .read();
  const planning::Calendar calendar = planning::calendar_of(build.money);
  const auto stages = planning::stages_of(build, calendar);
  // From 4 April to 29 April: 16 days before it is due, the due day at 3, then nine days at 4.
  CHECK(planning::worth_of(build, 0, stages, calendar.end)[3] == 60 * (16 * 3 + 3 + 9 * 4));
  CHECK(planning::worth_of(build, 1, stages, calendar.end)[3] == 60 * (3 + 9 * 4));
}

TEST_CASE("a part that several jobs renew is wanted once, for the first of them that is done") {
  BuildText text{.jobs = R"("a": {"name": "a", "want": 3, "hours": 1}, "b": {"name": "b", "hours": 1})",
                 .more = R"(, "fitted": {"old": {"name": "old", "since": "2022-04-20", "life_years": 5,
                           "replaced_by": ["a", "b"]}})"};
  const build::Build build = text.read();
  const planning::Calendar calendar = planning::calendar_of(build.money);
  const auto stages = planning::stages_of(build, calendar);
  CHECK(planning::worth_of(build, 0, stages, calendar.end)[3] == 60 * 26 * 3);
  CHECK(planning::worth_of(build, 1, stages, calendar.end)[3] == 0);
  const auto renewals = planning::renewals_of(build, stages, calendar.end);
  REQUIRE(renewals.size() == 1);
  CHECK(renewals[0].jobs == std::vector<int>{0, 1});
  CHECK(renewals[0].worth[0][3] == 60 * 9 * 1);  // from 3 to 4
  CHECK(renewals[0].worth[1][3] == 60 * (3 + 9 * 4));
}

TEST_CASE("of several parts each adds to what a job is wanted without it") {
  const build::Build build =
      BuildText{
          .jobs = R"("kit": {"name": "kit", "hours": 1}, "chain": {"name": "chain", "hours": 1})",
          .more =
              R"(, "fitted": {"old-chain": {"name": "old chain", "since": "2022-04-20", "life_years": 5, "replaced_by": ["kit", "chain"]},
                 "old-front": {"name": "old sprocket", "since": "2022-04-29", "life_years": 5, "replaced_by": ["kit"]},
                 "old-guide": {"name": "old guide", "since": "2022-04-21", "life_years": 5, "replaced_by": ["chain", "kit"]}})"}
          .read();
  const planning::Calendar calendar = planning::calendar_of(build.money);
  const auto stages = planning::stages_of(build, calendar);
  CHECK(planning::worth_of(build, 0, stages, calendar.end)[3] == 60 * 3);  // 29 April is the last day
  const auto renewals = planning::renewals_of(build, stages, calendar.end);
  REQUIRE(renewals.size() == 1);
  CHECK(renewals[0].jobs == std::vector<int>{0, 1});
  CHECK(renewals[0].worth[0][3] == 60 * (3 + 8 * 4 + 1));
  CHECK(renewals[0].worth[1][3] == 60 * (3 + 9 * 4));
}

TEST_CASE("windows keep the bench dates that by and not_before allow, both inclusive") {
  const build::Build build =
      BuildText{
          .jobs =
              R"("a": {"name": "a", "want": 1, "hours": 1, "not_before": "2027-02-04", "by": "2027-03-04"},
                 "b": {"name": "b", "want": 1, "hours": 1, "not_before": "2027-02-05", "by": "2027-03-03"})"}
          .read();
  const auto stages = planning::stages_of(build, planning::calendar_of(build.money));
  const planning::Window a = planning::window_of(build.jobs[0], stages);
  CHECK(a.earliest == 1);
  CHECK(a.latest == 2);
  CHECK(planning::window_of(build.jobs[1], stages).empty());
}

TEST_CASE("jobs done with each other are one group through others too") {
  const build::Build build = BuildText{.jobs = R"("a": {"name": "a", "want": 1, "hours": 1, "with": ["c"]},
    "b": {"name": "b", "want": 1, "hours": 1}, "c": {"name": "c", "want": 1, "hours": 1, "with": ["d"]},
    "d": {"name": "d", "want": 1, "hours": 1})"}
                                 .read();
  CHECK(planning::together_of(build) == std::vector<std::vector<int>>{{0, 2, 3}});
}
