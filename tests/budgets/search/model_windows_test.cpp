#include <cstdint>
#include <variant>

#include "budgets/problem/plan.hpp"
#include "budgets/search/model.hpp"
#include "tests/budgets/support/enlarged.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::cents;
using testing::plain_job;
using testing::plain_stages;
using testing::random_cases;
using testing::random_problem;

/// The first stage in which the unit of a job is allowed; -1: none.
int first_allowed(const ProblemData& data, int job) {
  const Problem problem(data);
  const Model model(problem);
  for (int u = 0; u < model.unit_count(); ++u) {
    if (model.units()[u].jobs.front() != job) continue;
    for (int t = 0; t < model.stage_count(); ++t) {
      if (model.allowed(u, t)) return t;
    }
  }
  return -1;
}

/// Four stages with 100 each; job 1 comes after job 0.
ProblemData two_jobs() {
  ProblemData data = plain_stages(4);
  data.jobs = {plain_job(data, 1), plain_job(data, 1)};
  data.jobs[1].after = {0};
  return data;
}

/// For so much a pack, so many days after the payday.
Offer offer(std::int64_t price, int days = 0) {
  Offer offer;
  offer.price = cents(price);
  offer.lead_days = days;
  return offer;
}

/// Offered for so much from one supplier that charges nothing.
void offer_article(ProblemData& data, std::int64_t price, Quantity pack) {
  data.suppliers = {{}};
  data.articles = {{}};
  data.articles[0].pack = pack;
  data.articles[0].offers = {offer(price)};
}

TEST_CASE("a job waits for the tools and goods of what has to come off") {
  ProblemData data = two_jobs();
  data.suppliers = {{}};
  data.removals = {{}};
  data.jobs[0].removals = {0};
  SUBCASE("a tool") {
    data.tools = {{}};
    data.tools[0].offers = {offer(1, 65)};
    data.removals[0].tools = {0};
  }
  SUBCASE("goods spoilt each time") {
    data.articles = {{}};
    data.articles[0].offers = {offer(1, 65)};
    data.removals[0].one_use = {{0, 1}};
  }
  CHECK(first_allowed(data, 0) == 2);
  CHECK(first_allowed(data, 1) == 2);  // and what comes after it
}

TEST_CASE("no job is allowed before the money for all that it requires") {
  ProblemData data = two_jobs();
  data.jobs[0].cost = cents(120);
  data.jobs[1].cost = cents(80);
  CHECK(first_allowed(data, 0) == 1);
  CHECK(first_allowed(data, 1) == 1);
  data.jobs[1].cost = cents(81);
  CHECK(first_allowed(data, 1) == 2);
  data.jobs[1].cost = cents(281);
  CHECK(first_allowed(data, 1) == -1);
}

TEST_CASE("the allowance is part of the money that a job requires") {
  ProblemData data = two_jobs();
  data.jobs[0].cost = cents(91);
  CHECK(first_allowed(data, 0) == 0);
  data.allowance_bp = 1000;
  CHECK(first_allowed(data, 0) == 1);
}

TEST_CASE("no job is allowed before the bench time for all that it requires") {
  ProblemData data = two_jobs();
  data.jobs[0].minutes = 600;
  data.jobs[1].minutes = 600;
  CHECK(first_allowed(data, 1) == 1);
  data.jobs[0].removals = data.jobs[1].removals = {0};
  data.removals = {{}};
  data.removals[0].minutes = 1;
  data.jobs[0].minutes = 599;
  CHECK(first_allowed(data, 1) == -1);  // the removal does not fit beside it
  data.jobs[1].minutes = 599;
  CHECK(first_allowed(data, 1) == 1);  // is counted once, as both may be done in one stage
  data.jobs[0].minutes = 1;
  CHECK(first_allowed(data, 1) == 1);
  data.jobs[0].minutes = 0;
  CHECK(first_allowed(data, 1) == 0);
}

TEST_CASE("what two jobs need of an article comes in whole packs less the stock") {
  ProblemData data = two_jobs();
  offer_article(data, 100, 1000);
  data.jobs[0].needs = {{0, 500}};
  data.jobs[1].needs = {{0, 500}};
  CHECK(first_allowed(data, 1) == 0);
  data.jobs[1].needs = {{0, 501}};
  CHECK(first_allowed(data, 1) == 1);
  data.articles[0].on_hand.emplace_back().amount = 1;
  CHECK(first_allowed(data, 1) == 0);
}

TEST_CASE("stock of just what a job needs will do without an offer") {
  ProblemData data = two_jobs();
  data.articles = {{}};
  data.articles[0].on_hand.emplace_back().amount = 5;
  data.jobs[0].needs = {{0, 5}};
  CHECK(first_allowed(data, 0) == 0);
  data.jobs[0].needs = {{0, 6}};
  CHECK(first_allowed(data, 0) == -1);
}

TEST_CASE("goods count at the lowest price up to the stage") {
  ProblemData data = two_jobs();
  offer_article(data, 150, 1000);
  data.jobs[0].needs = {{0, 1000}};
  CHECK(first_allowed(data, 0) == 1);
  Offer cheap = offer(100);
  cheap.until = data.stages[0].payday;
  data.articles[0].offers.push_back(cheap);
  CHECK(first_allowed(data, 0) == 0);
}

TEST_CASE("a tool counts once at what it costs to hire or to buy and nothing where it is free by then") {
  ProblemData data = two_jobs();
  data.suppliers = {{}};
  data.tools = {{}};
  data.tools[0].offers = {offer(150)};
  data.jobs[0].tools = data.jobs[1].tools = {0};
  CHECK(first_allowed(data, 1) == 1);
  SUBCASE("hire") {
    data.tools[0].hire = cents(100);
    CHECK(first_allowed(data, 1) == 0);
    data.tools[0].hire = cents(101);
    CHECK(first_allowed(data, 1) == 1);
  }
  SUBCASE("free") {
    data.tools[0].free = {1, 0, 0, 0};
    CHECK(first_allowed(data, 1) == 0);
    data.tools[0].offers = {offer(500)};
    data.jobs[1].tools.clear();
    data.jobs[1].earliest = 1;
    CHECK(first_allowed(data, 1) == 1);  // job 0 may have been done before
  }
}

TEST_CASE("a must that no money reaches makes the problem hopeless") {
  ProblemData data = two_jobs();
  data.jobs[0].cost = cents(400);
  data.jobs[1].must = true;
  CHECK_FALSE(Model(Problem(data)).must_is_hopeless());
  data.jobs[0].cost = cents(401);
  CHECK(Model(Problem(data)).must_is_hopeless());
}

TEST_CASE("every stage that a plan uses is allowed") {
  int plans = 0;
  for (int seed = 0; seed < random_cases(400); ++seed) {
    CAPTURE(seed);
    const Problem problem(testing::enlarged(random_problem(800'000 + seed, 7, 4), seed % 2 == 0 ? 1 : 1237));
    const Model model(problem);
    for (int draw = 0; draw < 8; ++draw) {
      const auto [stage_of, tool_bought] = testing::random_schedule(seed * 20 + draw, problem.data());
      const auto costed = cost(problem, {stage_of, tool_bought});
      if (!std::holds_alternative<Plan>(costed)) continue;
      ++plans;
      for (int u = 0; u < model.unit_count(); ++u) {
        CAPTURE(u);
        const int stage = stage_of[model.units()[u].jobs.front()];
        if (stage >= 0) CHECK(model.allowed(u, stage));
      }
    }
  }
  CHECK(plans > 0);
}

}  // namespace
}  // namespace fettlefund::budgets::search
