#include "budgets/solve.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/plain_best.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

/// Stages whose bench time lies on several days, and jobs with a day within it.
namespace fettlefund::budgets {
namespace {

using namespace testing;

bool all_done(const ProblemData& data) {
  const Result result = solve(Problem(data), {});
  const Plan* plan = plan_of(result);
  return plan != nullptr && plan->stages[0].jobs.size() == data.jobs.size();
}

TEST_CASE("a job with a day within the stage is done exactly if the time up to that day holds it") {
  ProblemData data = three_evenings();
  data.jobs = {evening_job(data, 120, Date{20017}), evening_job(data, 60, {})};
  CHECK(all_done(data));
  data.jobs[0].minutes = 121;
  data.jobs[1].minutes = 59;
  CHECK_FALSE(all_done(data));
  data.jobs[0].by = Date{20024};
  CHECK(all_done(data));
}

TEST_CASE("a day between two evenings has the time of the one before it") {
  ProblemData data = three_evenings();
  data.jobs = {evening_job(data, 60, Date{20016})};
  CHECK(all_done(data));
  data.jobs[0].minutes = 61;
  CHECK_FALSE(all_done(data));
}

TEST_CASE("what a job with a day comes after or with takes its time before that day") {
  ProblemData data = three_evenings();
  data.jobs = {evening_job(data, 30, Date{20010}), evening_job(data, 40, {})};
  CHECK(all_done(data));
  data.jobs[0].after = {1};
  CHECK_FALSE(all_done(data));
  data.jobs[0].after.clear();
  data.together = {{0, 1}};
  const Result result = solve(Problem(data), {});
  CHECK(plan_of(result)->stages[0].jobs.empty());
}

TEST_CASE("removals that a job with a day opens take their time before that day once") {
  ProblemData data = three_evenings();
  data.removals = {{cents(0), 20, {}, {}, {}}, {cents(0), 10, {0}, {}, {}}};
  data.jobs = {evening_job(data, 15, Date{20010}), evening_job(data, 15, Date{20010})};
  data.jobs[0].removals = {1};
  data.jobs[1].removals = {0};
  CHECK(all_done(data));
  data.jobs[1].minutes = 16;
  CHECK_FALSE(all_done(data));
}

TEST_CASE("stock has to keep up to the last day of the stage that uses it") {
  ProblemData data = three_evenings();
  data.articles = {{1000, {}, {{1000, Date{20023}}}, {}}};
  data.jobs = {evening_job(data, 10, {})};
  data.jobs[0].needs = {{0, 1000}};
  CHECK_FALSE(all_done(data));
  data.articles[0].on_hand[0].use_by = Date{20024};
  CHECK(all_done(data));
}

TEST_CASE("days of bench time that contradict each other are refused by name") {
  const auto refused = [](auto spoil) {
    ProblemData data = three_evenings();
    spoil(data.stages[0]);
    return refusal(data);
  };
  CHECK(refused([](Stage& s) { s.last = Date{20009}; }) ==
        "stages[0].last: is before the stage's bench date");
  CHECK(refused([](Stage& s) { s.marks[0].day = Date{20009}; }) ==
        "stages[0].marks[0].day: is before the stage's bench date");
  CHECK(refused([](Stage& s) { s.marks[1].day = Date{20024}; }) ==
        "stages[0].marks[1].day: is not before the stage's last day");
  CHECK(refused([](Stage& s) { s.marks[1].day = Date{20010}; }) ==
        "stages[0].marks[1].day: is not after the day before");
  CHECK(refused([](Stage& s) { s.marks[1].minutes = 60; }) ==
        "stages[0].marks[1].minutes: 60 is outside 61 to 180");
  CHECK(refused([](Stage& s) { s.marks[1].minutes = 181; }) ==
        "stages[0].marks[1].minutes: 181 is outside 61 to 180");
  ProblemData two = plain_stages(2);
  two.stages[0].last = Date{20030};
  CHECK(refusal(two) == "stages[1].payday: is not after the last day of bench time before");
}

TEST_CASE("the verifier refuses a plan in which a day within a stage is passed") {
  ProblemData data = three_evenings();
  data.jobs = {evening_job(data, 61, {})};
  const Result result = solve(Problem(data), {});
  data.jobs[0].by = Date{20010};
  const auto violations = verify(Problem(data), *plan_of(result));
  REQUIRE(violations.size() == 1);
  CHECK(violations[0].rule == Rule::hours);
  CHECK(violations[0].what ==
        "job 0 is due on day 20010 within stage 0, and what is due by then takes 61 minutes of 60");
}

/// The best plan by exhaustion with rules of its own, the solver's and the verifier agree.
void check_case(int seed) {
  CAPTURE(seed);
  const Problem problem(with_days(seed, random_problem(seed, 4, 3)));
  bool all = true;
  const auto best = plain_best(problem, all);
  if (!all) return;
  const Result result = solve(problem, {});
  if (!best) {
    CHECK(std::holds_alternative<Impossible>(result));
    return;
  }
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(PlainBest{proven->plan.value, proven->plan.spent.minor(), proven->plan.minutes} == *best);
  CHECK(verify(problem, proven->plan).empty());
}

TEST_CASE("with days within stages solve finds what exhaustion finds best") {
  const int cases = random_cases(2000);
  for (int seed = first_random_case(); seed < cases; ++seed) check_case(seed);
}

TEST_CASE("with days within stages solve finds what enumeration of larger problems finds best") {
  const int cases = random_cases(100);
  for (int seed = first_random_case(); seed < cases; ++seed) {
    CAPTURE(seed);
    const Problem problem(with_days(seed, random_problem(seed, 8, 4)));
    const auto truth = brute_force(problem);
    const Result result = solve(problem, {});
    const auto* proven = std::get_if<Proven>(&result);
    REQUIRE((proven != nullptr) == truth.best.has_value());
    if (proven == nullptr) continue;
    CHECK(proven->plan.value == truth.best->value);
    CHECK(proven->plan.spent == truth.best->spent);
  }
}

TEST_CASE("cost and verifier judge random schedules with days within stages alike") {
  for (int seed = 0; seed < random_cases(3000); ++seed) {
    CAPTURE(seed);
    const Problem problem(with_days(seed, random_problem(seed, 6, 4)));
    const ScheduleDraw draw = random_schedule(seed, problem.data());
    const auto costed = cost(problem, {draw.stage_of, draw.tool_bought});
    if (const Plan* plan = std::get_if<Plan>(&costed)) {
      REQUIRE(verify(problem, *plan).empty());
      continue;
    }
    // Without its days the schedule may keep all rules: then it is they that it breaks, for the verifier too.
    ProblemData free = problem.data();
    for (Job& job : free.jobs) job.by.reset();
    const auto without = cost(Problem(free), {draw.stage_of, draw.tool_bought});
    if (const Plan* plan = std::get_if<Plan>(&without)) REQUIRE_FALSE(verify(problem, *plan).empty());
  }
}

}  // namespace
}  // namespace fettlefund::budgets
