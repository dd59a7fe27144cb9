#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

/// Days within a stage's bench time: 60 minutes each on day 20010, 20017 and 20024.
namespace fettlefund::budgets {
namespace {

using namespace testing;

ProblemData three_days() {
  ProblemData data = plain_stages(1);
  data.stages[0].minutes = 180;
  data.stages[0].last = Date{20024};
  data.stages[0].marks = {{Date{20010}, 60}, {Date{20017}, 120}};
  return data;
}

Job due_job(const ProblemData& data, std::int64_t minutes, std::optional<Date> by) {
  Job job = plain_job(data, 1, 0, minutes);
  job.by = by;
  return job;
}

/// The day on which more is due than there is time for, where all jobs are done.
std::optional<Overdue> overdue(const ProblemData& data) {
  std::vector<int> all;
  for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) all.push_back(j);
  return overdue_in(Problem(data), 0, all);
}

TEST_CASE("what is due on a bench day has the time of that day and is overdue by a minute more") {
  ProblemData data = three_days();
  data.jobs = {due_job(data, 60, Date{20010})};
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
  ProblemData data = three_days();
  data.jobs = {due_job(data, 180, Date{20024})};
  CHECK_FALSE(overdue(data));
  data.jobs[0].by = Date{20023};
  CHECK(overdue(data)->room == 120);
}

TEST_CASE("with a job that is due come the jobs of its group and their removals, once each") {
  ProblemData data = three_days();
  data.removals = {{cents(0), 20, {}, {}, {}}};
  data.jobs = {due_job(data, 20, Date{20010}), due_job(data, 21, {})};
  data.jobs[0].removals = data.jobs[1].removals = {0};
  CHECK_FALSE(overdue(data));
  data.together = {{0, 1}};
  REQUIRE(overdue(data));
  CHECK(overdue(data)->minutes == 61);
}

}  // namespace
}  // namespace fettlefund::budgets
