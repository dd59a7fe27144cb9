#include <algorithm>

#include "budgets/values/lists.hpp"
#include "budgets/what_if/what_if.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

// What stands in the way of a job in the first stage, rule by rule.

namespace fettlefund::budgets {
namespace {

using testing::cents;
using testing::plain_job;
using testing::plain_stages;

AtStage first_stage(const ProblemData& data, int job) {
  const Problem problem(data);
  Solver solver(problem);
  const Result result = solver.solve();
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  REQUIRE(proven->plan.schedule.stage_of[static_cast<std::size_t>(job)] != 0);
  const Why told = why(solver, proven->plan, true, job);
  REQUIRE_FALSE(told.stages.empty());
  return told.stages.front();
}

/// The first job is impossible there; lifting `first` makes it possible, and of the rules behind it `others`.
void check_held(const ProblemData& data, Hold first, const std::vector<Hold>& others) {
  const AtStage at = first_stage(data, 0);
  CHECK(at.possible == Possible::no);
  CHECK(at.holds == std::vector{first});
  CHECK(at.others == others);
}

/// Two stages and a job that uses one article.
ProblemData one_article(Article article) {
  ProblemData data = plain_stages(2);
  data.suppliers = {{}};
  data.articles = {std::move(article)};
  data.jobs = {plain_job(data, 5)};
  data.jobs[0].needs = {{0, 1000}};
  return data;
}

TEST_CASE("a lead time holds a job back and nothing else does") {
  check_held(one_article({1000, {}, {}, {{0, cents(10), 30, {}, {}}}}), Hold::delivery, {});
}

TEST_CASE("stock on its way holds a job back until it is there") {
  ProblemData data = one_article({1000, {}, {}, {}});
  data.articles[0].on_hand = {{1000, {}, data.stages[1].bench}};
  check_held(data, Hold::delivery, {});
}

TEST_CASE("stock on its way holds a job back where what is on offer is too dear") {
  ProblemData data = one_article({1000, {}, {}, {{0, cents(5000), 0, {}, {}}}});
  data.articles[0].on_hand = {{1000, {}, data.stages[1].bench}};
  check_held(data, Hold::cash, {Hold::delivery});
}

TEST_CASE("a day within the stage holds a job back as a date and by the hours up to it") {
  ProblemData data = testing::three_evenings();
  data.jobs = {testing::evening_job(data, 90, Date{20012})};
  check_held(data, Hold::dates, {Hold::hours});
}

TEST_CASE("a job that is done together with one that is too long is held by order too") {
  ProblemData data = plain_stages(2);
  data.stages[1].minutes = 900;
  data.jobs = {plain_job(data, 5, 0, 100), plain_job(data, 1, 0, 700)};
  data.together = {{0, 1}};
  check_held(data, Hold::hours, {Hold::order});
}

TEST_CASE("of several musts the one in the way is named") {
  ProblemData data = plain_stages(1);
  data.jobs = {plain_job(data, 9, 100), plain_job(data, 1, 0), plain_job(data, 1, 100)};
  data.jobs[1].must = data.jobs[2].must = true;
  const AtStage at = first_stage(data, 0);
  CHECK(at.possible == Possible::no);
  CHECK(contains(at.others, Hold::musts));
  CHECK(at.in_the_way == 2);
}

TEST_CASE("what clashes but can be adapted is possible") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 5, 100), plain_job(data, 0, 0), plain_job(data, 9, 100)};
  data.carriers.resize(2);
  data.carriers[0].brought_by = 0;
  data.clashes = {{0, 1, {1}}};
  CHECK(first_stage(data, 0).possible == Possible::yes);
  data.clashes = {{0, 1, {}}};
  const AtStage at = first_stage(data, 0);
  CHECK(at.possible == Possible::no);
  CHECK(at.holds == std::vector{Hold::clashes});
}

}  // namespace
}  // namespace fettlefund::budgets
