#include <algorithm>

#include "budgets/solve.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

// "Best" and "impossible" speak of every way of buying.

namespace fettlefund::budgets {
namespace {

using testing::brute_force;
using testing::cents;
using testing::first_random_case;
using testing::plain_job;
using testing::plain_stages;
using testing::Random;
using testing::random_cases;
using testing::random_problem;

Offer offer(int supplier, int price, int lead_days = 0) {
  return {supplier, cents(price), lead_days, {}, {}};
}

/// Suppliers without charge, and one job that needs one pack of an article with these offers.
ProblemData one_job(int stages, std::vector<Offer> offers) {
  ProblemData data = plain_stages(stages);
  data.suppliers = {{}, {}};
  data.articles = {{1000, {}, {}, std::move(offers)}};
  data.jobs = {plain_job(data, 10)};
  data.jobs[0].needs = {{0, 1000}};
  return data;
}

Plan proven_plan(const ProblemData& data) {
  const Result result = solve(Problem(data));
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  CHECK(proven->ties_proven);
  return proven->plan;
}

TEST_CASE("a dearer offer is taken where the cheaper one closes before there is money for it") {
  ProblemData data = one_job(6, {offer(0, 389), offer(1, 319)});
  data.articles[0].offers[1].until = data.stages[1].payday;
  const Plan plan = proven_plan(data);
  CHECK(plan.schedule.stage_of == std::vector{3});
  CHECK(plan.spent == cents(389));
  data.opening = cents(119);
  CHECK(proven_plan(data).schedule.stage_of == std::vector{1});
  CHECK(proven_plan(data).spent == cents(319));
}

TEST_CASE("a must that only the near and dearer supplier can serve in time is no impossible demand") {
  ProblemData data = one_job(2, {offer(0, 199, 40), offer(1, 200)});
  data.jobs[0].must = true;
  const Plan plan = proven_plan(data);
  CHECK(plan.schedule.stage_of == std::vector{1});
  CHECK(plan.spent == cents(200));
}

TEST_CASE("a cheaper and slower offer beside another never makes a plan worth less") {
  ProblemData data = one_job(6, {offer(1, 85, 1)});
  data.opening = cents(-20);
  const std::int64_t alone = proven_plan(data).value;
  data.articles[0].offers.push_back(offer(0, 80, 14));
  CHECK(proven_plan(data).value == alone);
  CHECK(proven_plan(data).schedule.stage_of == std::vector{1});
}

TEST_CASE("two stages share one delivery where buying stage by stage would pay two") {
  // Each stage by itself: 11 from the free supplier beats 8 + 5. Both together: 8 + 8 + 5 = 21, not 22.
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(5), {}}, {}};
  for (int j = 0; j < 2; ++j) {
    data.articles.push_back({1000, {}, {}, {offer(0, 8), offer(1, 11)}});
    data.jobs.push_back(plain_job(data, 10, 0, 600));
    data.jobs.back().needs = {{j, 1000}};
  }
  const Plan plan = proven_plan(data);
  CHECK(plan.spent == cents(21));
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.orders[0].stage == 0);
}

TEST_CASE("an order placed early for its delivery is placed late where the money is not there") {
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(5), {}}};
  for (int j = 0; j < 2; ++j) {
    data.articles.push_back({1000, {}, {}, {offer(0, 60)}});
    data.jobs.push_back(plain_job(data, 10, 0, 600));
    data.jobs.back().needs = {{j, 1000}};
  }
  CHECK(proven_plan(data).spent == cents(130));
  data.opening = cents(24);
  CHECK(proven_plan(data).spent == cents(130));
  data.opening = cents(25);
  CHECK(proven_plan(data).spent == cents(125));
}

TEST_CASE("early goods bring an order up to its free-from amount") {
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(5), cents(20)}};
  for (int j = 0; j < 2; ++j) {
    data.articles.push_back({1000, {}, {}, {offer(0, 10)}});
    data.jobs.push_back(plain_job(data, 10, 0, 600));
    data.jobs.back().needs = {{j, 1000}};
  }
  CHECK(proven_plan(data).spent == cents(20));
  data.suppliers[0].free_from = cents(21);
  CHECK(proven_plan(data).spent == cents(25));
}

TEST_CASE("an order is not placed early for its own sake") {
  ProblemData data = plain_stages(3);
  data.suppliers = {{cents(5), {}}};
  data.articles = {{1000, {}, {}, {offer(0, 10)}}};
  data.jobs = {plain_job(data, 10)};
  data.jobs[0].needs = {{0, 1000}};
  data.jobs[0].earliest = 2;
  data.allowance_bp = 100;
  const Plan plan = proven_plan(data);
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.orders[0].stage == 2);
}

/// An offer more for some article or tool, better or worse than those it has.
void add_offer(ProblemData& data, Random& random) {
  Offer more{random.below(static_cast<int>(data.suppliers.size())),
             cents(random.between(0, 14)),
             random.chance(40) ? 0 : random.between(1, 50),
             {},
             {}};
  const Stage& stage =
      data.stages[static_cast<std::size_t>(random.below(static_cast<int>(data.stages.size())))];
  if (random.chance(30)) more.until = stage.payday + random.between(-3, 3);
  if (random.chance(15)) more.from = stage.payday + random.between(-3, 3);
  if (!data.articles.empty() && (data.tools.empty() || random.chance(80))) {
    data.articles[static_cast<std::size_t>(random.below(static_cast<int>(data.articles.size())))]
        .offers.push_back(more);
  } else if (!data.tools.empty()) {
    data.tools[static_cast<std::size_t>(random.below(static_cast<int>(data.tools.size())))].offers.push_back(
        more);
  }
}

TEST_CASE("an offer more never lowers the best value nor raises its price") {
  for (int seed = first_random_case(); seed < random_cases(100); ++seed) {
    CAPTURE(seed);
    Random random(seed);
    ProblemData data = random_problem(static_cast<std::uint64_t>(seed) + 700'000, 7, 4);
    const Result before = solve(Problem(data));
    add_offer(data, random);
    const Result after = solve(Problem(data));
    REQUIRE_FALSE(std::holds_alternative<Stopped>(after));
    const Plan* old_plan = plan_of(before);
    if (old_plan == nullptr) continue;
    const Plan* new_plan = plan_of(after);
    REQUIRE(new_plan != nullptr);
    CHECK(compare(*new_plan, *old_plan) >= 0);
  }
}

/// The least opening cash, up to what there is, with which the value is still reached.
std::int64_t least_opening(ProblemData data, std::int64_t value) {
  std::int64_t low = data.opening.minor() - 200, high = data.opening.minor();
  while (low + 1 < high) {
    const std::int64_t middle = low + (high - low) / 2;
    data.opening = cents(middle);
    const auto best = brute_force(Problem(data)).best;
    (best && best->value >= value ? high : low) = middle;
  }
  return high;
}

void check_best(const ProblemData& data) {
  const auto truth = brute_force(Problem(data)).best;
  const Result result = solve(Problem(data));
  const Plan* plan = plan_of(result);
  REQUIRE_FALSE(std::holds_alternative<Stopped>(result));
  REQUIRE((plan != nullptr) == truth.has_value());
  if (plan != nullptr) CHECK(compare(*plan, *truth) == 0);
}

TEST_CASE("with just the cash that the best plan needs it is found and with a minor unit less another") {
  for (int seed = first_random_case(); seed < random_cases(40); ++seed) {
    CAPTURE(seed);
    ProblemData data = random_problem(static_cast<std::uint64_t>(seed) + 800'000, 5, 3);
    const auto best = brute_force(Problem(data)).best;
    if (!best || best->spent == Money()) continue;
    data.opening = cents(least_opening(data, best->value));
    check_best(data);
    data.opening = data.opening - cents(1);
    check_best(data);
  }
}

}  // namespace
}  // namespace fettlefund::budgets
