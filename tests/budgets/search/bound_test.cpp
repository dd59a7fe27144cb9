#include <algorithm>

#include "budgets/search/bound/bounder.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/enlarged.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::brute_force;
using testing::enlarged;
using testing::Random;
using testing::random_cases;
using testing::random_problem;

/// Multipliers that no one would choose: any must do.
std::vector<double> wild_multipliers(std::vector<double> start, Random& random) {
  for (double& x : start) {
    if (random.chance(60)) x = random.below(200) / 10.0;
  }
  return start;
}

/// The part of a plan before `stage`, as the bound sees it.
Root prefix(const Relaxed& relaxed, const Plan& plan, int stage) {
  Root root{stage, std::vector<char>(relaxed.units, 0), std::vector<char>(relaxed.tools(), 0), 0, 0};
  std::vector<char> paid(relaxed.fees.size(), 0);
  for (int t = 0; t < stage; ++t) {
    std::vector<char> open(relaxed.charges.size(), 0);
    for (int u = 0; u < relaxed.units; ++u) {
      if (plan.schedule.stage_of[relaxed.model->units()[u].jobs[0]] != t) continue;
      root.done[u] = 1;
      root.value += relaxed.worth_at(u, t);
      root.spent += relaxed.cost_at(u, t);
      for (int e : relaxed.charges_of[u]) {
        if (!open[e]) root.value -= relaxed.charges[e].worth;
        if (!open[e]) root.spent += relaxed.charges[e].cost;
        open[e] = 1;
      }
      for (int f : relaxed.fees_of[u]) {
        if (!paid[f]) root.spent += relaxed.fees[f].cost;
        paid[f] = 1;
      }
      for (int k : relaxed.tools_of[u]) {
        if (!root.had[k]) root.spent += relaxed.tool_cost[k];
        root.had[k] = 1;
      }
    }
  }
  return root;
}

/// The bound of every beginning of the best plan allows for the best plan.
void check_beginnings(const Problem& problem, const Plan& best, std::int32_t list_limit, Random& random) {
  const Model model(problem);
  const Relaxed relaxed(model);
  Bounder bounder(relaxed, list_limit);
  Meter meter(std::int64_t{1} << 50, nullptr);
  for (int trial = 0; trial < 4; ++trial) {
    std::vector<double> values = bounder.start();
    if (trial > 0) values = wild_multipliers(std::move(values), random);
    for (int t = 0; t < problem.stage_count(); ++t) {
      bounder.load(values, t, t, meter);
      const Root root = prefix(relaxed, best, t);
      CHECK(bounder.bound(root) >= bounder.scale().up(best.value));
    }
  }
}

TEST_CASE("a removal whose bother no single unit is worth still counts where several share it") {
  ProblemData data;
  data.bother = 1;
  data.stages.push_back({Date{0}, Date{5}, Money::of_minor(1000), {}, 1000});
  data.removals.push_back({Money(), 8, {}, {}, {}});
  for (std::int64_t worth : {5, 6, 7}) {
    Job job;
    job.worth = {worth};
    job.removals = {0};
    data.jobs.push_back(job);
  }
  const Problem problem(data);
  const auto truth = brute_force(problem);
  REQUIRE(truth.best);
  CHECK(truth.best->value == 10);
  const Model model(problem);
  const Relaxed relaxed(model);
  for (std::int32_t list_limit : {0, 1000}) {
    Bounder bounder(relaxed, list_limit);
    Meter meter(1'000'000, nullptr);
    std::vector<double> values(bounder.start().size(), 0.0);
    bounder.load(values, 0, 0, meter);
    CHECK(bounder.bound(prefix(relaxed, *truth.best, 0)) == bounder.scale().up(10));
  }
}

TEST_CASE("with any multipliers no beginning of the best plan is bounded below its value") {
  Random random(1);
  for (int seed = 0; seed < random_cases(250); ++seed) {
    CAPTURE(seed);
    // Half of them with amounts that fall between the levels of the axis.
    const Problem problem(enlarged(random_problem(200'000 + seed, 7, 4), seed % 2 == 0 ? 1 : 1237));
    const auto truth = brute_force(problem);
    if (!truth.best) continue;
    check_beginnings(problem, *truth.best, 100'000, random);  // sets listed
    check_beginnings(problem, *truth.best, 0, random);        // knapsack
  }
}

TEST_CASE("improving multipliers lowers the bound and keeps it above the best plan") {
  int lowered = 0;
  for (int seed = 0; seed < 120; ++seed) {
    CAPTURE(seed);
    const Problem problem(enlarged(random_problem(seed, 7, 4), seed % 3 == 0 ? 1 : 1237));
    const auto truth = brute_force(problem);
    if (!truth.best) continue;
    const Model model(problem);
    const Relaxed relaxed(model);
    Bounder bounder(relaxed, seed % 2 == 0 ? 100'000 : 0);
    Meter meter(50'000'000, nullptr);
    std::vector<double> values = bounder.start();
    bounder.load(values, 0, 0, meter);
    const Root root = prefix(relaxed, *truth.best, 0);
    const std::int64_t before = bounder.bound(root);
    bounder.improve(root, values, {20, 12, 1.0, 0.6, 0.05, false}, -(std::int64_t{1} << 40), 0.0, 2'000'000,
                    meter);
    bounder.load(values, 0, 0, meter);
    const std::int64_t after = bounder.bound(root);
    CHECK(after <= before);
    CHECK(after >= bounder.scale().up(truth.best->value));
    lowered += after < before;
  }
  CHECK(lowered > 50);
}

TEST_CASE("in the relaxed problem every plan keeps the caps, and costs what it costs where costs are exact") {
  int exact = 0;
  for (int seed = 0; seed < random_cases(400); ++seed) {
    CAPTURE(seed);
    const ProblemData data = random_problem(300'000 + seed, 8, 5);
    const Problem problem(data);
    const Model model(problem);
    const Relaxed relaxed(model);
    for (int draw = 0; draw < 6; ++draw) {
      const auto drawn = testing::random_schedule(seed * 10 + draw, data);
      const auto costed = cost(problem, {drawn.stage_of, drawn.tool_bought});
      const Plan* plan = std::get_if<Plan>(&costed);
      if (plan == nullptr) continue;
      std::int64_t bare = 0;
      for (const StageCost& stage : plan->stages) bare += (stage.spent - stage.allowance).minor();
      for (int t = 1; t <= problem.stage_count(); ++t) {
        CHECK(prefix(relaxed, *plan, t).spent <= relaxed.caps[t - 1]);
      }
      const Root whole = prefix(relaxed, *plan, problem.stage_count());
      CHECK(whole.value >= plan->value);
      if (data.renewals.empty()) CHECK(whole.value == plan->value);
      CHECK(whole.spent * relaxed.unit_cost <= bare);
      if (relaxed.exact) CHECK(whole.spent * relaxed.unit_cost == bare);
      exact += relaxed.exact;
    }
  }
  CHECK(exact > 0);
}

/// Two jobs with a part each from one supplier that charges 300 a delivery.
ProblemData two_parts(std::int64_t income) {
  ProblemData data;
  for (int t = 0; t < 3; ++t)
    data.stages.push_back({Date{30 * t}, Date{30 * t + 5}, Money::of_minor(income), {}, 60});
  data.suppliers.push_back({Money::of_minor(300), {}});
  for (int j = 0; j < 2; ++j) {
    data.articles.push_back({1000, {}, {}, {{0, Money::of_minor(1000), 1, {}, {}}}});
    Job job;
    job.worth = {30, 20, 10};
    job.minutes = 60;  // one a stage
    job.needs = {{j, 1000}};
    data.jobs.push_back(job);
  }
  return data;
}

std::int64_t improved_bound(const Problem& problem) {
  const Model model(problem);
  const Relaxed relaxed(model);
  Bounder bounder(relaxed, 100'000);
  Meter meter(std::int64_t{1} << 40, nullptr);
  std::vector<double> values = bounder.linear_start(0.0, 20'000'000, meter);
  const Root root{0, std::vector<char>(relaxed.units, 0), std::vector<char>(relaxed.tools(), 0), 0, 0};
  bounder.improve(root, values, {60, 25, 0.4, 0.6, 0.002, true}, -(std::int64_t{1} << 40), 0.0, 50'000'000,
                  meter);
  bounder.load(values, 0, 0, meter);
  return bounder.scale().floor_worth(bounder.bound(root));
}

TEST_CASE("a delivery counts on every payday that orders, unless the money is there to order before") {
  // Two orders take 2,600, of which 2,500 are there by the second payday; one order takes 2,300, of which
  // 1,300 are there by the first.
  ProblemData data = two_parts(1300);
  data.stages[1].cash_in = Money::of_minor(1200);
  data.jobs[0].latest = 0;
  data.jobs[1].earliest = 1;
  const Problem problem(data);
  const auto truth = brute_force(problem);
  REQUIRE(truth.best);
  CHECK(truth.best->value == 40);
  const std::int64_t bound = improved_bound(problem);
  CHECK(bound >= 40);
  CHECK(bound < 50);
  // With 1,000 more on the first payday one order does.
  data.stages[0].cash_in = Money::of_minor(2300);
  data.stages[1].cash_in = Money();
  const auto early = brute_force(Problem(data));
  REQUIRE(early.best);
  CHECK(early.best->value == 50);
  CHECK(improved_bound(Problem(data)) >= 50);
}

TEST_CASE("a scale keeps rounding on the safe side") {
  for (int shift : {-5, -1, 0, 3, 10}) {
    const Scale scale(shift);
    for (std::int64_t worth : {-1000, -33, -1, 0, 1, 7, 31, 32, 1000}) {
      CHECK(scale.floor_worth(scale.up(worth)) >= worth);
      CHECK(scale.down(worth) <= scale.up(worth));
    }
  }
}

}  // namespace
}  // namespace fettlefund::budgets::search
