#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

/// Days within a stage's bench time.
namespace fettlefund::budgets {
namespace {

using namespace testing;

/// The day on which more is due than there is time for, where all jobs are done.
std::optional<Overdue> overdue(const ProblemData& data) {
  std::vector<int> all;
  for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) all.push_back(j);
  return overdue_in(Problem(data), 0, all);
}

TEST_CASE("what is due on a bench day has the time of that day and is overdue by a minute more") {
  ProblemData data = three_evenings();
  data.jobs = {evening_job(data, 60, Date{20010})};
  CHECK_FALSE(overdue(data));
  data.jobs[0].minutes = 61;
  REQUIRE(overdue(data));
  CHECK(overdue(data)->day == Date{20010});
  CHECK(overdue(data)->minutes == 61);
  CHECK(overdue(data)->room == 60);
  data.jobs[0].by = Date{20009};  // before the stage: that is a matter of its window
  CHECK_FALSE(overdue(data));
}

TEST_CASE("what is due on the last bench day has all the time of the stage") {
  ProblemData data = three_evenings();
  data.jobs = {evening_job(data, 180, Date{20024})};
  CHECK_FALSE(overdue(data));
  data.jobs[0].by = Date{20023};
  CHECK(overdue(data)->room == 120);
}

TEST_CASE("with a job that is due come the jobs of its group and their removals, once each") {
  ProblemData data = three_evenings();
  data.removals = {{cents(0), 20, {}, {}, {}}};
  data.jobs = {evening_job(data, 20, Date{20010}), evening_job(data, 21, {})};
  data.jobs[0].removals = data.jobs[1].removals = {0};
  CHECK_FALSE(overdue(data));
  data.together = {{0, 1}};
  REQUIRE(overdue(data));
  CHECK(overdue(data)->minutes == 61);
}

}  // namespace
}  // namespace fettlefund::budgets
