#include "tests/budgets/support/small.hpp"
#include "tests/budgets/verify/verify_sample.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::budgets;
using namespace fettlefund::budgets::sample;

// Each of the following changes one recorded thing of the plan.

TEST_CASE("every recorded figure of a stage is checked") {
  const auto money = {&StageCost::goods,     &StageCost::delivery, &StageCost::hire,      &StageCost::fees,
                      &StageCost::allowance, &StageCost::spent,    &StageCost::cash_after};
  for (const auto figure : money)
    for (const int s : {0, 1, 2}) {
      const auto findings = with_plan([&](Plan& p) { p.stages[s].*figure += cents(1); });
      check_only(findings, Rule::accounts);
      CHECK(findings.size() == 1);
      CHECK(has(findings, Rule::accounts, s, -1));
    }
  for (const auto figure : {&StageCost::job_minutes, &StageCost::removal_minutes})
    CHECK(has(with_plan([&](Plan& p) { p.stages[0].*figure -= 1; }), Rule::accounts, 0, -1));
}

TEST_CASE("every recorded list of a stage is checked") {
  for (const auto list : {&StageCost::jobs, &StageCost::opened, &StageCost::hired}) {
    CHECK(has(with_plan([&](Plan& p) { (p.stages[0].*list).pop_back(); }), Rule::accounts, 0, -1));
    CHECK(has(with_plan([&](Plan& p) { (p.stages[2].*list).push_back(0); }), Rule::accounts, 2, -1));
  }
  CHECK(has(with_plan([](Plan& p) { std::swap(p.stages[0].jobs[0], p.stages[0].jobs[1]); }), Rule::accounts,
            0, -1));
}

TEST_CASE("a removal opened without the one it needs is found") {
  const auto findings = with_plan([](Plan& p) { p.stages[0].opened = {1}; });
  check_only(findings, Rule::accounts);
  CHECK(findings.size() == 1);
}

TEST_CASE("the plan totals are checked") {
  check_only(with_plan([](Plan& p) { p.value += 1; }), Rule::accounts);
  check_only(with_plan([](Plan& p) { p.spent -= cents(1); }), Rule::accounts);
  check_only(with_plan([](Plan& p) { p.minutes += 1; }), Rule::accounts);
}

TEST_CASE("the amounts of orders are checked") {
  check_only(with_plan([](Plan& p) { p.orders[0].lines[0].amount += cents(1); }), Rule::accounts);
  check_only(with_plan([](Plan& p) { p.orders[0].goods -= cents(1); }), Rule::accounts);
  check_only(with_plan([](Plan& p) { p.orders[0].delivery = Money(); }), Rule::accounts);
}

TEST_CASE("delivery is free from the very amount on") {
  const auto from = [](int amount) {
    ProblemData data = sample::problem();
    data.suppliers[0].free_from = cents(amount);
    return data;
  };
  const Plan plan = costed(from(2150), sample::schedule());
  CHECK(plan.orders[0].delivery == Money());
  CHECK(faults(from(2150), plan).empty());
  check_only(faults(from(2151), plan), Rule::accounts);
}

TEST_CASE("orders and lines out of their order are found") {
  check_only(with_plan([](Plan& p) { std::swap(p.orders[0], p.orders[1]); }), Rule::accounts);
  check_only(with_plan([](Plan& p) { std::swap(p.orders[0].lines[0], p.orders[0].lines[1]); }),
             Rule::accounts);
}

TEST_CASE("two orders from one supplier on one payday are found") {
  check_only(with_plan([](Plan& p) {
               Order second = p.orders[0];
               p.orders[0].lines.pop_back();
               second.lines.erase(second.lines.begin());
               p.orders.insert(p.orders.begin() + 1, second);
             }),
             Rule::accounts);
}

TEST_CASE("two orders where one would do are found though no figure is wrong") {
  ProblemData data = sample::problem();
  data.suppliers[0] = {Money(), std::nullopt};
  Plan plan = costed(data, sample::schedule());
  REQUIRE(plan.orders[0].supplier == 0);
  REQUIRE(plan.orders[0].lines.size() == 2);
  Order second = plan.orders[0];
  plan.orders[0].lines.pop_back();
  second.lines.erase(second.lines.begin());
  plan.orders[0].goods = plan.orders[0].lines[0].amount;
  second.goods = second.lines[0].amount;
  plan.orders.insert(plan.orders.begin() + 1, second);
  const auto findings = faults(data, plan);
  check_only(findings, Rule::accounts);
  CHECK(findings.size() == 1);
  CHECK(has(findings, Rule::accounts, 0, 1));
}

TEST_CASE("an order placed early for the rounding of an allowance is no cheaper way") {
  // 10 and 10 pay an allowance of 1 each, 20 at once would pay 1 in all; but nothing of the second order
  // presses.
  ProblemData data = fettlefund::testing::plain_stages(2);
  data.allowance_bp = 500;
  data.suppliers = {{}};
  data.articles = {{1000, {}, {}, {offer(0, 10, 0)}}};
  data.jobs = {fettlefund::testing::plain_job(data, 5, 10), fettlefund::testing::plain_job(data, 1)};
  data.jobs[1].needs = {{0, 1000}};
  data.jobs[1].earliest = 1;
  const Plan plan = costed(data, {{0, 1}, {}});
  CHECK(plan.spent == cents(22));
  CHECK(faults(data, plan).empty());
}

TEST_CASE("an order without lines is found") {
  ProblemData data = sample::problem();
  data.suppliers.push_back({Money(), std::nullopt});  // delivers for nothing, so no figure is wrong
  Plan plan = sample::plan();
  Order empty;
  empty.stage = 2;
  empty.supplier = 2;
  plan.orders.push_back(empty);
  const auto findings = faults(data, plan);
  check_only(findings, Rule::accounts);
  CHECK(findings.size() == 1);
}

TEST_CASE("goods bought in a dearer way are found though all figures agree") {
  ProblemData dear = sample::problem();
  dear.articles[0].offers[0].price = cents(3000);  // then supplier 1 is the cheaper way
  const Plan plan = costed(dear, sample::schedule());
  ProblemData cheap = sample::problem();
  cheap.articles[0].offers[0].price = cents(2000);
  const auto findings = faults(cheap, plan);
  check_only(findings, Rule::accounts);
  REQUIRE(findings.size() == 1);
  CHECK(has(findings, Rule::accounts, -1, -1));
}

TEST_CASE("one dear offer is found even among more ways than are tried one by one") {
  ProblemData data = sample::problem();
  data.articles.assign(13, Article{});  // two offers each: 8192 ways
  for (Article& article : data.articles) article.offers = {offer(0, 2000, 3), offer(1, 1000, 3)};
  data.jobs[3].needs.clear();
  for (int a = 0; a < 13; ++a) data.jobs[3].needs.push_back({a, 1000});
  data.opening = cents(100000);
  for (Job& job : data.jobs) job.must = false;
  const Schedule only_job_3{{-1, -1, -1, 0, -1}, {-1, -1}};
  CHECK(faults(data, costed(data, only_job_3)).empty());
  ProblemData dear = data;
  dear.articles[5].offers[1].price = cents(9000);
  const Plan plan = costed(dear, only_job_3);
  REQUIRE(plan.orders.size() == 2);
  const auto findings = faults(data, plan);
  check_only(findings, Rule::accounts);
  CHECK(findings.size() == 1);
}

TEST_CASE("equally cheap ways are told apart by early cash and then by offer") {
  ProblemData data = sample::problem();
  data.jobs[0] = Job{{9, 9, 9}, Money(), 10, {}, {}, {{0, 1000}}, {}, 0, -1, false};
  data.suppliers = {{Money(), std::nullopt}, {Money(), std::nullopt}};
  data.carriers.clear();
  data.clashes.clear();
  data.together.clear();
  data.jobs[1].must = false;
  const auto plan_with = [&](Offer first, Offer second) {
    data.articles[0].offers = {first, second};
    return costed(data, {{1, -1, -1, -1, -1}, {-1, -1}});
  };
  Plan plan = plan_with(offer(0, 2000, 3), offer(1, 2000, 3));
  CHECK(faults(data, plan).empty());
  std::swap(data.articles[0].offers[0], data.articles[0].offers[1]);
  plan.orders[0].lines[0].offer = 1;
  check_only(faults(data, plan), Rule::accounts);
  // The second offer is the same money but a payday later: it leaves more cash on payday 0.
  plan = plan_with(offer(0, 2000, 30), offer(1, 2000, 3));
  CHECK(plan.orders[0].stage == 1);
  CHECK(faults(data, plan).empty());
  data.articles[0].offers[1].price = cents(2001);
  CHECK_FALSE(faults(data, plan).empty());
}

TEST_CASE("indices that do not exist are found and nothing else is looked at") {
  const std::vector<std::function<void(Plan&)>> changes{
      [](Plan& p) { p.schedule.stage_of[0] = 3; },          [](Plan& p) { p.schedule.stage_of[0] = -2; },
      [](Plan& p) { p.schedule.stage_of.pop_back(); },      [](Plan& p) { p.schedule.tool_bought[0] = 7; },
      [](Plan& p) { p.schedule.tool_bought.clear(); },      [](Plan& p) { p.orders[0].stage = 3; },
      [](Plan& p) { p.orders[0].supplier = -1; },           [](Plan& p) { p.orders[0].lines[0].article = 3; },
      [](Plan& p) { p.orders[0].lines[0].article = -1; },   [](Plan& p) { p.orders[0].lines[0].tool = 0; },
      [](Plan& p) { p.orders[0].lines[0].offer = 3; },      [](Plan& p) { p.orders[2].lines[0].tool = 2; },
      [](Plan& p) { p.orders[0].lines[0].for_stage = -1; },
  };
  for (const auto& change : changes) check_only(with_plan(change), Rule::window);
  check_only(with_plan([](Plan& p) { p.stages.pop_back(); }), Rule::accounts);
}

TEST_CASE("absurd pack counts are a finding and not a crash") {
  for (const std::int64_t packs : {INT64_MAX, INT64_MIN, std::int64_t{0}, std::int64_t{-1}})
    CHECK_FALSE(with_plan([&](Plan& p) { p.orders[0].lines[0].packs = packs; }).empty());
}
