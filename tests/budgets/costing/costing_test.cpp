#include "budgets/costing/costing.hpp"

#include <algorithm>

#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/plain_basket.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

Plan plan_of(const ProblemData& data, const Schedule& schedule) {
  const auto result = cost(Problem(data), schedule);
  if (const auto* broken = std::get_if<std::vector<Violation>>(&result)) FAIL(broken->front().what);
  return std::get<Plan>(result);
}

std::vector<Violation> broken_by(const ProblemData& data, const Schedule& schedule) {
  const auto result = cost(Problem(data), schedule);
  return std::holds_alternative<Plan>(result) ? std::vector<Violation>{}
                                              : std::get<std::vector<Violation>>(result);
}

bool only(const std::vector<Violation>& broken, Rule rule, int stage, int index) {
  return broken.size() == 1 && broken[0].rule == rule && broken[0].stage == stage && broken[0].index == index;
}

/// The same goods and jobs without any rule that could refuse a schedule, goods and tools apart.
ProblemData freed(ProblemData data) {
  data.opening = cents(1'000'000);
  for (Stage& stage : data.stages) stage.floor = {}, stage.minutes = 100'000;
  for (Job& job : data.jobs) job.after.clear(), job.earliest = 0, job.latest = -1, job.must = false;
  for (Tool& tool : data.tools) tool.hire = tool.hire.value_or(Money());
  data.carriers.clear();
  data.clashes.clear();
  data.one_of.clear();
  data.together.clear();
  return data;
}

/// One supplier's article needed by job j, `amount` each; offers to be added.
ProblemData one_article(int stages, std::vector<Quantity> amounts) {
  ProblemData data = plain_stages(stages);
  data.suppliers = {{cents(5), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, {}, {}}}}};
  for (Quantity amount : amounts) {
    data.jobs.push_back(plain_job(data, 1));
    data.jobs.back().needs = {{0, amount}};
  }
  return data;
}

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

}  // namespace

TEST_CASE("a plan worked by hand comes out to the minor unit") {
  ProblemData data = plain_stages(2);
  data.opening = cents(11);
  data.allowance_bp = 1000;
  data.bother = 2;
  data.suppliers = {{cents(5), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, {}, {}}}}};
  data.removals = {{cents(3), 20, {}, {{0, 400}}, {}}};
  data.jobs = {plain_job(data, 50, 10, 60), plain_job(data, 30, 20, 30)};
  data.jobs[0].removals = {0};
  data.jobs[0].needs = {{0, 1500}};
  data.jobs[1].removals = {0};
  const Plan plan = plan_of(data, {{0, 1}, {}});
  // Stage 0 needs 1900: 2 packs, 14, delivery 5, own cost 10 + 3; 100 is left over. The pack for stage 1
  // comes with them: 7. All that is 39, allowance 3.9 -> 4.
  const StageCost& first = plan.stages[0];
  CHECK(first.goods == cents(21));
  CHECK(first.delivery == cents(5));
  CHECK(first.fees == cents(13));
  CHECK(first.allowance == cents(4));
  CHECK(first.spent == cents(43));
  CHECK(first.cash_after == cents(68));
  CHECK(first.job_minutes == 60);
  CHECK(first.removal_minutes == 20);
  // Stage 1 needs 400, has 100: 1 pack, paid already; 23, allowance 2.3 -> 3.
  CHECK(plan.stages[1].spent == cents(26));
  CHECK(plan.stages[1].cash_after == cents(142));
  CHECK(plan.value == 50 * 2 + 30 - 2 * 40);
  CHECK(plan.spent == cents(69));
  CHECK(plan.minutes == 60 + 30 + 40);
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.orders[0].lines[0].packs == 2);
  CHECK(plan.orders[0].lines[1].for_stage == 1);
}

TEST_CASE("a removal is charged once in a stage however many jobs open it") {
  ProblemData data = plain_stages(2);
  data.removals = {{cents(3), 20, {}, {}, {}}};
  data.jobs = {plain_job(data, 1), plain_job(data, 1), plain_job(data, 1)};
  for (Job& job : data.jobs) job.removals = {0};
  const Plan plan = plan_of(data, {{0, 0, 1}, {}});
  CHECK(plan.spent == cents(6));
  CHECK(plan.stages[0].opened == std::vector{0});
  CHECK(plan.minutes == 40);
}

TEST_CASE("leftovers serve later stages until their keeping time ends") {
  ProblemData data = one_article(3, {600, 400, 1});
  CHECK(plan_of(data, {{0, 1, 2}, {}}).spent == cents(7 + 7 + 5));
  data.articles[0].keeping_days = 30;  // opened at bench 20010, so usable at bench 20040
  CHECK(plan_of(data, {{0, 1, -1}, {}}).spent == cents(12));
  data.articles[0].keeping_days = 29;
  CHECK(plan_of(data, {{0, 1, -1}, {}}).spent == cents(7 + 7 + 5));
}

TEST_CASE("stock on hand is used first and the lot that ends first before others") {
  ProblemData data = one_article(2, {500, 500});
  data.articles[0].on_hand = {{500, {}}, {500, Date{20010}}};
  CHECK(plan_of(data, {{0, 1}, {}}).spent == cents(0));
  data.articles[0].on_hand[1].use_by = Date{20009};
  CHECK(plan_of(data, {{0, 1}, {}}).spent == cents(12));
}

TEST_CASE("stock on its way is used from its arrival on and not before") {
  ProblemData data = one_article(3, {1000, 1000, 0});
  data.jobs[2].needs.clear();
  data.articles[0].on_hand = {{1000, {}, data.stages[1].bench}};
  CHECK(plan_of(data, {{-1, 1, -1}, {}}).spent == cents(0));
  CHECK(plan_of(data, {{0, 1, -1}, {}}).spent == cents(12));
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(12));
  data.articles[0].on_hand[0].from = data.stages[1].bench + 1;
  CHECK(plan_of(data, {{-1, 1, -1}, {}}).spent == cents(12));
  CHECK(plan_of(data, {{-1, 2, -1}, {}}).spent == cents(0));
}

TEST_CASE("closed stock on hand goes off once a pack of it is opened and whole packs stay closed") {
  ProblemData data = one_article(3, {400, 1, 400});
  data.articles[0].keeping_days = 29;  // a day less than from one bench date to the next
  data.articles[0].on_hand = {{1000, {}}};
  CHECK(plan_of(data, {{0, -1, 0}, {}}).spent == cents(0));
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(12));  // the rest of it has gone off
  data.articles[0].keeping_days = 30;
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(0));
  data.articles[0].keeping_days = 29;
  data.articles[0].on_hand = {{1000, {}}, {1000, {}}};
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(0));  // the second is opened then
  data.articles[0].on_hand = {{1400, {}}};
  CHECK(plan_of(data, {{0, -1, 1}, {}}).spent == cents(0));  // the smaller pack is opened first
}

TEST_CASE("stock that goes off before it arrives is never used") {
  ProblemData data = one_article(2, {1000, 1000});
  data.articles[0].on_hand = {{2000, data.stages[0].bench, data.stages[1].bench}};
  CHECK(plan_of(data, {{0, 1}, {}}).spent == cents(7 + 7 + 5));
}

TEST_CASE("an order for a later stage joins the same payday and shares its delivery") {
  ProblemData data = one_article(2, {1000, 1000});
  data.articles.push_back({1000, {}, {}, {{0, cents(9), 40, {}, {}}}});
  data.jobs[1].needs[0].article = 1;
  Plan plan = plan_of(data, {{0, 1}, {}});
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.spent == cents(7 + 9 + 5));
  CHECK(plan.stages[0].cash_after == cents(79));
  CHECK(plan.orders[0].lines[1].for_stage == 1);
  data.suppliers[0].free_from = cents(16);
  plan = plan_of(data, {{0, 1}, {}});
  CHECK(plan.spent == cents(16));
  CHECK(plan.orders[0].delivery == cents(0));
}

TEST_CASE("a dearer offer is taken where it saves a delivery charge") {
  ProblemData data = one_article(1, {1000, 1000});
  data.suppliers.push_back({cents(6), cents(20)});
  data.articles.push_back({1000, {}, {}, {{1, cents(15), 0, {}, {}}}});
  data.articles[0].offers = {{0, cents(1), 0, {}, {}}, {1, cents(5), 0, {}, {}}};
  data.jobs[1].needs[0].article = 1;
  const Plan plan = plan_of(data, {{0, 0}, {}});  // 1 + 5 + 15 + 6 = 27 against 5 + 15 = 20
  CHECK(plan.spent == cents(20));
  CHECK(plan.orders.size() == 1);
}

TEST_CASE("among equal baskets cash stays longest and then the lowest offer wins") {
  ProblemData data = one_article(2, {1000});
  data.articles[0].offers = {{0, cents(7), 11, {}, {}}, {0, cents(7), 0, {}, {}}, {0, cents(7), 0, {}, {}}};
  const Plan plan = plan_of(data, {{1}, {}});
  CHECK(plan.orders[0].stage == 1);
  CHECK(plan.orders[0].lines[0].offer == 1);
}

TEST_CASE("a tool is free, hired, or bought once for all later stages") {
  ProblemData data = plain_stages(4);
  data.suppliers = {{cents(5), {}}};
  data.tools = {{{1, 0, 0, 0}, {{0, cents(30), 0, {}, {}}}, cents(12)}};
  for (int j = 0; j < 4; ++j) data.jobs.push_back(plain_job(data, 1));
  for (Job& job : data.jobs) job.tools = {0};
  CHECK(plan_of(data, {{0, 1, 2, 3}, {-1}}).spent == cents(36));
  CHECK(plan_of(data, {{0, 1, 2, 3}, {1}}).spent == cents(35));
  const Plan plan = plan_of(data, {{0, 1, 2, 3}, {2}});
  CHECK(plan.spent == cents(47));
  CHECK(plan.stages[1].hired == std::vector{0});
  CHECK(only(broken_by(data, {{0, -1, 2, 3}, {1}}), Rule::tool, 1, 0));
  data.tools[0].hire.reset();
  CHECK(only(broken_by(data, {{0, 1, 2, 3}, {2}}), Rule::tool, 1, 0));
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

TEST_CASE("styles for fewer or more stages than there are break no rule and make nothing dearer") {
  const ProblemData data = one_article(2, {1000, 1000});
  const Plan plain = plan_of(data, {{0, 1}, {}});
  for (const std::size_t count : {1, 2, 3}) {
    CHECK(plan_of(data, {{0, 1}, {}, std::vector<Style>(count, {true, true})}).spent <= plain.spent);
  }
}

TEST_CASE("each broken rule is reported with its place") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1, 10, 300), plain_job(data, 1, 10, 301), plain_job(data, 1)};
  const auto check = [&](const Schedule& schedule, Rule rule, int stage, int index) {
    const auto broken = broken_by(data, schedule);
    REQUIRE(broken.size() == 1);
    CHECK(only(broken, rule, stage, index));
    CHECK_FALSE(broken[0].what.empty());
  };
  check({{0, 0, 0}, {}}, Rule::hours, 0, -1);
  check({{0, 1}, {}}, Rule::window, -1, -1);
  check({{0, 2, 0}, {}}, Rule::window, -1, 1);
  check({{0, -2, 0}, {}}, Rule::window, -1, 1);
  data.jobs[0].latest = 0;
  check({{1, 0, 0}, {}}, Rule::window, 1, 0);
  data.jobs[0].must = true;
  check({{-1, 0, 0}, {}}, Rule::must, -1, 0);
  data.jobs[2].after = {1};
  check({{0, 1, 0}, {}}, Rule::order, 0, 2);
  check({{0, -1, 0}, {}}, Rule::order, 0, 2);
  CHECK(broken_by(data, {{0, 1, 1}, {}}).empty());
  data.one_of = {{0, 1}};
  check({{0, 1, 1}, {}}, Rule::one_of, 1, 1);
  data.one_of.clear();
  data.together = {{1, 2}};
  check({{0, 1, -1}, {}}, Rule::together, -1, 2);
  CHECK(broken_by(data, {{0, 1, 1}, {}}).empty());
}

TEST_CASE("cash below the floor is reported with what is short") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1, 95)};
  data.stages[0].floor = cents(6);
  const auto broken = broken_by(data, {{0}, {}});
  REQUIRE(only(broken, Rule::cash, 0, -1));
  CHECK(broken[0].amount == cents(1));
  CHECK(broken_by(data, {{1}, {}}).empty());
}

TEST_CASE("goods that cannot arrive are reported") {
  ProblemData data = one_article(2, {1000});
  data.articles[0].offers[0].lead_days = 11;
  CHECK(only(broken_by(data, {{0}, {}}), Rule::goods, 0, 0));
  CHECK(broken_by(data, {{1}, {}}).empty());
  data.articles[0].offers.clear();
  CHECK(only(broken_by(data, {{1}, {}}), Rule::goods, 1, 0));
}

TEST_CASE("mates must agree and clashes be adapted at the end of every stage") {
  ProblemData data = plain_stages(2);
  data.jobs = {plain_job(data, 1), plain_job(data, 1), plain_job(data, 1)};
  data.carriers = {{-1, {0}, {{7, 1}}}, {0, {}, {{7, 2}}}, {-1, {1}, {{7, 1}}}, {1, {}, {{7, 2}}}};
  CHECK(only(broken_by(data, {{0, 1, -1}, {}}), Rule::mate, 0, 7));
  CHECK(broken_by(data, {{1, 1, -1}, {}}).empty());
  CHECK(broken_by(data, {{-1, -1, -1}, {}}).empty());
  data.clashes = {{1, 3, {2}}};
  CHECK(only(broken_by(data, {{0, 0, 1}, {}}), Rule::clash, 0, 0));
  CHECK(broken_by(data, {{1, 1, 1}, {}}).empty());
  data.clashes[0].adapted_by.clear();
  CHECK(broken_by(data, {{1, 1, 1}, {}}).size() == 1);
}

TEST_CASE("what takes a thing off before it comes leaves it there") {
  ProblemData data = plain_stages(3);
  for (int j = 0; j < 3; ++j) data.jobs.push_back(plain_job(data, 1));
  // Job 0 fits wide bars, job 1 the old narrow ones again; job 2 fits what goes with wide bars only.
  data.carriers = {{-1, {0}, {{0, 22}}}, {0, {1}, {{0, 28}}}, {1, {0}, {{0, 22}}}, {2, {}, {{0, 28}}}};
  CHECK(plan_of(data, {{1, 0, 1}, {}}).value == 2 + 3 + 2);
  CHECK(only(broken_by(data, {{0, 1, 2}, {}}), Rule::mate, 2, 0));
  CHECK(broken_by(data, {{0, 1, 0}, {}}).size() == 2);  // at the end of stages 1 and 2
}

TEST_CASE("a renewal is earned once, by the first job of it that is done or the best in its stage") {
  ProblemData data = plain_stages(3);
  for (int j = 0; j < 3; ++j) data.jobs.push_back(plain_job(data, 1));
  data.renewals = {{{0, 2}, {{50, 40, 30}, {90, 80, 70}}}};
  CHECK(plan_of(data, {{0, -1, -1}, {}}).value == 3 + 50);
  CHECK(plan_of(data, {{0, -1, 1}, {}}).value == 3 + 2 + 50);
  CHECK(plan_of(data, {{1, -1, 0}, {}}).value == 3 + 2 + 90);
  CHECK(plan_of(data, {{1, -1, 1}, {}}).value == 2 + 2 + 80);
  CHECK(plan_of(data, {{-1, 0, -1}, {}}).value == 3);
}

TEST_CASE("plans compare by value and then money and then minutes") {
  Plan a;
  Plan b;
  CHECK(compare(a, b) == 0);
  b.minutes = 1;
  CHECK(compare(a, b) > 0);
  a.spent = cents(1);
  CHECK(compare(a, b) < 0);
  a.value = 1;
  CHECK(compare(a, b) > 0);
}

/// Whether nothing but cash and goods stands against the schedule.
bool only_money_counts(const std::vector<Violation>& broken) {
  return std::all_of(broken.begin(), broken.end(),
                     [](const Violation& v) { return v.rule == Rule::cash || v.rule == Rule::goods; });
}

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
