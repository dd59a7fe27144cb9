#include <algorithm>

#include "budgets/costing/costing.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/costed.hpp"
#include "tests/budgets/support/plain_basket.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

/// A job a stage, each with three articles of its own, from four suppliers that mostly charge delivery.
ProblemData many_ways(std::uint64_t seed) {
  constexpr int stages = 8, articles = 3, suppliers = 4;
  Random random(seed);
  ProblemData data = plain_stages(stages);
  for (Stage& stage : data.stages) stage.cash_in = cents(1'000'000);
  for (int s = 0; s < suppliers; ++s) {
    data.suppliers.push_back({cents(random.between(20, 99)), {}});
    if (random.chance(75)) data.suppliers.back().free_from = cents(random.between(200, 799));
  }
  for (int t = 0; t < stages; ++t) {
    data.jobs.push_back(plain_job(data, 5));
    for (int a = 0; a < articles; ++a) {
      const int first = random.below(suppliers), price = random.between(40, 339);
      Article article;
      for (int o = 0, offers = random.between(1, 3); o < offers; ++o) {
        const int days = random.chance(25) ? random.between(11, 50) : random.below(8);
        article.offers.push_back({(first + o) % suppliers, cents(price * (100 + 5 * o) / 100), days, {}, {}});
      }
      data.jobs.back().needs.push_back({static_cast<int>(data.articles.size()), 1000});
      data.articles.push_back(std::move(article));
    }
  }
  return data;
}

/// Just the cash that buying each stage in its style takes; false where something cannot be had.
bool give_cash_for(ProblemData& data, const std::vector<Style>& styles) {
  const Problem problem(data);
  const Buyer buyer(problem);
  Stores stores = buyer.opening_stores();
  Receipt receipt;
  for (Stage& stage : data.stages) stage.cash_in = {};
  for (int t = 0; t < problem.stage_count(); ++t) {
    buyer.forget(t, stores);
    buyer.buy(t, demand_of(problem, {t}, {}, {}), stores, receipt, styles[t]);
    if (!receipt.missing.empty()) return false;
    for (const PaydayCharge& charge : receipt.charges)
      data.stages[charge.stage].cash_in += charge.goods + charge.delivery;
  }
  return true;
}

bool same_orders(const std::vector<Order>& a, const std::vector<Order>& b) {
  const auto same_line = [](const OrderLine& x, const OrderLine& y) {
    return x.article == y.article && x.tool == y.tool && x.offer == y.offer && x.for_stage == y.for_stage &&
           x.packs == y.packs && x.amount == y.amount;
  };
  const auto same = [&](const Order& x, const Order& y) {
    return x.stage == y.stage && x.supplier == y.supplier && x.goods == y.goods && x.delivery == y.delivery &&
           std::equal(x.lines.begin(), x.lines.end(), y.lines.begin(), y.lines.end(), same_line);
  };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), same);
}

/// The same with the cash as it was, and some more.
ProblemData eased(ProblemData data) {
  const Money cash = data.opening + cents(40);
  const std::vector<Stage> stages = data.stages;
  data = freed(std::move(data));
  data.opening = cash;
  for (std::size_t t = 0; t < stages.size(); ++t) data.stages[t].floor = stages[t].floor;
  return data;
}

/// With as little opening cash as the schedule can be bought for, and with one minor unit less. True if that
/// little makes it dearer.
bool binds(const Problem& problem, const Schedule& schedule, const Plan& plan) {
  ProblemData data = problem.data();
  data.opening = data.opening - cents(2'000'000);
  const auto broken = broken_by(data, schedule);
  REQUIRE_FALSE(broken.empty());
  Money least;
  for (const Violation& v : broken) least = std::max(least, v.amount);
  data.opening += least;
  const PlainShopping plain = shop_plainly(Problem(data), schedule);
  if (!plain.all) return false;
  REQUIRE(plain.possible);
  REQUIRE(plan_of(data, schedule).spent.minor() == plain.spent);
  REQUIRE(same_orders(plan_of(data, schedule).orders, plain.orders));
  data.opening = data.opening - cents(1);
  const PlainShopping none = shop_plainly(Problem(data), schedule);
  REQUIRE((!none.all || !none.possible));
  REQUIRE_FALSE(broken_by(data, schedule).empty());
  return plain.spent > plan.spent.minor();
}

/// Whether nothing but cash and goods stands against the schedule.
bool only_money_counts(const std::vector<Violation>& broken) {
  return std::all_of(broken.begin(), broken.end(),
                     [](const Violation& v) { return v.rule == Rule::cash || v.rule == Rule::goods; });
}

}  // namespace

TEST_CASE("goods are bought in the way that trying every offer and payday finds best") {
  int compared = 0, scarce = 0, early = 0;
  long long most = 0;
  const int cases = random_cases(3000);
  for (int seed = first_random_case(); seed < cases; ++seed) {
    CAPTURE(seed);
    const bool rich = seed % 3 == 0;
    const ProblemData drawn = random_problem(seed, 5, 4);
    const ProblemData data = rich ? freed(drawn) : eased(drawn);
    const Problem problem(data);
    const ScheduleDraw draw = random_schedule(seed + 1'000'000, data);
    const Schedule schedule{draw.stage_of, draw.tool_bought};
    const auto result = cost(problem, schedule);
    const auto* plan = std::get_if<Plan>(&result);
    if (plan == nullptr && !only_money_counts(std::get<1>(result))) continue;
    const PlainShopping plain = shop_plainly(problem, schedule);
    if (!plain.all) continue;
    ++compared;
    most = std::max(most, plain.ways);
    REQUIRE((plan != nullptr) == plain.possible);
    if (plan == nullptr) continue;
    REQUIRE(plan->spent.minor() == plain.spent);
    REQUIRE(same_orders(plan->orders, plain.orders));
    for (const Order& order : plan->orders) {
      for (const OrderLine& line : order.lines) {
        const auto& offers =
            line.tool < 0 ? data.articles[line.article].offers : data.tools[line.tool].offers;
        early += order_stage(data, offers[line.offer], line.for_stage) > order.stage;
      }
    }
    scarce += binds(problem, schedule, *plan);
  }
  CHECK(compared > cases / 5);
  if (cases < 1000) return;
  CHECK(most >= 1000);
  CHECK(early >= 20);
  CHECK(scarce >= 20);
}

TEST_CASE("goods are bought best where thresholds and equal prices make it hard") {
  const int cases = random_cases(200);
  int compared = 0;
  for (int seed = 0; seed < cases; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    ProblemData data = plain_stages(2);
    data.opening = cents(random.chance(50) ? 10'000 : random.between(15, 60));
    data.allowance_bp = random.chance(30) ? 1000 : 0;
    for (Stage& stage : data.stages) stage.cash_in = cents(random.between(0, 20));
    for (int s = 0; s < 3; ++s) data.suppliers.push_back({cents(random.below(9)), {}});
    for (Supplier& supplier : data.suppliers) {
      if (random.chance(75)) supplier.free_from = cents(random.between(10, 40));
    }
    for (int a = 0; a < 6; ++a) {
      data.articles.push_back({1000, {}, {}, {}});
      for (int o = random.between(1, 2); o > 0; --o) {
        data.articles[a].offers.push_back(
            {random.below(3), cents(random.between(4, 7)), random.chance(30) ? 20 : 0, {}, {}});
      }
      data.articles[a].offers.push_back({0, cents(7), 0, {}, {}});
      data.jobs.push_back(plain_job(data, 1));
      data.jobs[a].needs = {{a, 1000}};
    }
    const Schedule schedule{{0, 0, 1, 1, 1, 1}, {}};
    const PlainShopping plain = shop_plainly(Problem(data), schedule);
    if (!plain.all) continue;
    ++compared;
    const auto result = cost(Problem(data), schedule);
    REQUIRE(std::holds_alternative<Plan>(result) == plain.possible);
    if (plain.possible) REQUIRE(std::get<Plan>(result).spent.minor() == plain.spent);
    if (plain.possible) REQUIRE(same_orders(std::get<Plan>(result).orders, plain.orders));
  }
  CHECK(compared > cases / 2);
}

TEST_CASE("forgetting what no later stage depends on changes no later receipt") {
  for (int seed = 0; seed < random_cases(400); ++seed) {
    CAPTURE(seed);
    const ProblemData data = random_problem(seed, 6, 5);
    const Problem problem(data);
    const Buyer buyer(problem);
    Stores whole = buyer.opening_stores();
    Stores brief = whole;
    Receipt receipt;
    Receipt same;
    for (int t = 0; t < problem.stage_count(); ++t) {
      std::vector<int> jobs;
      for (int j = 0; j < problem.job_count(); ++j) {
        if (Random(seed * 1000 + t * 100 + j).chance(30)) jobs.push_back(j);
      }
      const Demand demand = demand_of(problem, jobs, {}, {});
      buyer.forget(t, brief);
      buyer.buy(t, demand, whole, receipt);
      buyer.buy(t, demand, brief, same);
      REQUIRE(receipt.charges.size() == same.charges.size());
      for (std::size_t c = 0; c < receipt.charges.size(); ++c) {
        REQUIRE(receipt.charges[c].stage >= buyer.first_payday(t));
        REQUIRE(receipt.charges[c].goods == same.charges[c].goods);
        REQUIRE(receipt.charges[c].delivery == same.charges[c].delivery);
      }
      REQUIRE(receipt.lines.size() == same.lines.size());
      REQUIRE(brief.orders.size() <= whole.orders.size());
    }
  }
}

TEST_CASE(
    "a schedule with styles that keep the cash is bought for, though without them no way may be found") {
  int with = 0, without = 0;
  for (int seed = 0; seed < random_cases(100); ++seed) {
    ProblemData data = many_ways(seed);
    Random random(seed + 1000);
    Schedule schedule;
    for (int t = 0; t < static_cast<int>(data.stages.size()); ++t) {
      schedule.stage_of.push_back(t);
      schedule.styles.push_back(all_styles[random.below(4)]);
    }
    if (!give_cash_for(data, schedule.styles)) continue;
    const Problem problem(data);
    CAPTURE(seed);
    CHECK(std::holds_alternative<Plan>(cost(problem, schedule)));
    ++with;
    schedule.styles.clear();
    without += std::holds_alternative<Plan>(cost(problem, schedule)) ? 1 : 0;
  }
  MESSAGE("bought for with their styles: " << with << ", without: " << without);
  if (random_cases(100) >= 100) CHECK(without < with);
}

TEST_CASE("brute force leaves out no better plan than full enumeration finds") {
  int possible = 0;
  for (int seed = 0; seed < random_cases(150); ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 4, 3));
    const BruteForce quick = brute_force(problem);
    const BruteForce full = enumerate_all(problem);
    REQUIRE(quick.best.has_value() == full.best.has_value());
    if (!full.best) continue;
    ++possible;
    REQUIRE(compare(*quick.best, *full.best) == 0);
  }
  CHECK(possible > 0);
}
