#include <functional>
#include <set>
#include <string>
#include <variant>

#include "budgets/plan.hpp"

#include <doctest/doctest.h>

using namespace fettlefund::budgets;

namespace {

Money cents(std::int64_t minor) { return Money::of_minor(minor); }
Date on(int day) { return make_date(2026, 1, 30) + day; }

/// Three paydays 28 days apart, bench a week after each. Invented.
std::vector<Stage> three_stages() {
  std::vector<Stage> stages(3);
  for (int s = 0; s < 3; ++s) stages[s] = {on(28 * s), on(28 * s + 7), cents(10000), cents(1000), 600};
  return stages;
}

Offer offer(int supplier, int price, int lead_days) {
  return {supplier, cents(price), lead_days, std::nullopt, std::nullopt};
}

std::vector<Article> three_articles() {
  std::vector<Article> articles(3);
  articles[0].offers = {offer(0, 2000, 3), offer(1, 1900, 3), offer(0, 1500, 60)};
  articles[1].keeping_days = 40;
  articles[1].on_hand = {{300, on(7)}, {100, std::nullopt}};
  articles[1].offers = {offer(1, 900, 20)};  // reaches stages 1 and 2 from the payday before
  articles[2].pack = 10000;
  articles[2].offers = {offer(0, 150, 2), offer(1, 140, 30)};
  return articles;
}

std::vector<Removal> two_removals() {
  std::vector<Removal> removals(2);
  removals[0].minutes = 30;
  removals[1] = {cents(100), 60, {0}, {{2, 1000}}, {1}};
  return removals;
}

std::vector<Job> five_jobs() {
  std::vector<Job> jobs(5);
  jobs[0] = {{30, 20, 10}, cents(0), 120, {1}, {}, {{0, 1000}}, {0}, 0, -1, false};
  jobs[1] = {{60, 40, 20}, cents(250), 90, {}, {0}, {{1, 500}}, {0}, 0, -1, true};
  jobs[2] = {{9, 6, 3}, cents(0), 100, {0}, {}, {{1, 350}}, {1}, 0, 1, false};
  jobs[3] = {{5, 4, 3}, cents(100), 10, {}, {}, {}, {}, 0, -1, false};
  jobs[4] = {{8, 6, 4}, cents(0), 20, {0}, {}, {{1, 700}}, {1}, 0, -1, false};
  return jobs;
}

/// Jobs 1 and 4 change the two carriers of key 7; what job 0 brings clashes with carrier 4 unless job 2 is
/// done.
std::vector<Carrier> five_carriers() {
  std::vector<Carrier> carriers(5);
  carriers[0] = {-1, {1}, {{7, 1}}};
  carriers[1] = {1, {}, {{7, 2}}};
  carriers[2] = {-1, {4}, {{7, 1}}};
  carriers[3].brought_by = 0;
  return carriers;
}

ProblemData sample() {
  ProblemData data;
  data.opening = cents(5000);
  data.allowance_bp = 1000;
  data.bother = 2;
  data.stages = three_stages();
  data.jobs = five_jobs();
  data.removals = two_removals();
  data.suppliers = {{cents(500), cents(4000)}, {cents(300), std::nullopt}};
  data.articles = three_articles();
  data.tools = {{{}, {offer(1, 1500, 1)}, cents(700)}, {{1, 0, 0}, {}, cents(400)}};
  data.carriers = five_carriers();
  data.clashes = {{3, 4, {2}}};
  data.one_of = {{2, 3}};
  data.together = {{1, 4}};
  return data;
}

/// Tool 0 is hired in stage 0 and bought for stage 1.
Schedule sample_schedule() { return {{0, 1, 0, -1, 1}, {1, -1}}; }

Plan costed(const ProblemData& data, const Schedule& schedule) {
  auto result = cost(Problem(data), schedule);
  if (auto* broken = std::get_if<std::vector<Violation>>(&result)) FAIL(broken->front().what);
  return std::get<Plan>(result);
}

const Plan& sample_plan() {
  static const Plan plan = costed(sample(), sample_schedule());
  return plan;
}

std::vector<Violation> faults(const ProblemData& data, const Plan& plan) {
  return verify(Problem(data), plan);
}

/// Checks that there are findings and that all are of this rule.
void check_only(const std::vector<Violation>& findings, Rule rule) {
  CHECK_FALSE(findings.empty());
  for (const Violation& v : findings) {
    CHECK_MESSAGE(static_cast<int>(v.rule) == static_cast<int>(rule), v.what);
    CHECK_FALSE(v.what.empty());
  }
}

bool has(const std::vector<Violation>& findings, Rule rule, int stage, int index) {
  for (const Violation& v : findings)
    if (v.rule == rule && v.stage == stage && v.index == index) return true;
  return false;
}

/// The sample plan judged by a problem that differs in one rule.
std::vector<Violation> with_problem(const std::function<void(ProblemData&)>& change) {
  ProblemData data = sample();
  change(data);
  return faults(data, sample_plan());
}

/// A plan with one recorded thing changed, judged by the sample problem.
std::vector<Violation> with_plan(const std::function<void(Plan&)>& change) {
  Plan plan = sample_plan();
  change(plan);
  return faults(sample(), plan);
}

OrderLine& line_for(Plan& plan, int stage, int article) {
  for (Order& order : plan.orders)
    for (OrderLine& line : order.lines)
      if (line.for_stage == stage && line.article == article) return line;
  throw std::logic_error("no such line in the sample plan");
}

}  // namespace

TEST_CASE("the sample plan is accepted and is what its rules give by hand") {
  const Plan& plan = sample_plan();
  CHECK(faults(sample(), plan).empty());
  // Stage 0: article 0 from supplier 1 (1900) where article 1 for stage 1 opens an order only later: 1900 +
  // 300 and 150 + 500 for article 2 come to 2850; both from supplier 0 come to 2150 + 500 = 2650, which is
  // less. Article 1: stage 0 needs 350, covered by the lots of 300 and 100. Stage 1 needs 1200 and has 50:
  // two packs, ordered on payday 0 (20 days). The tool for stage 1 is ordered on payday 1.
  REQUIRE(plan.orders.size() == 3);
  CHECK(plan.orders[0].goods == cents(2150));
  CHECK(plan.orders[0].delivery == cents(500));
  CHECK(plan.orders[1].goods == cents(1800));
  CHECK(plan.orders[1].stage == 0);
  CHECK(plan.orders[2].goods == cents(1500));
  CHECK(plan.orders[2].stage == 1);
  // Hire of tool 0 in stage 0 and of tool 1 (free in stage 0 only) in stage 1; 10 % on 5550 and 2450.
  CHECK(plan.stages[0].spent == cents(2150 + 500 + 1800 + 300 + 700 + 100 + 555));
  CHECK(plan.stages[1].spent == cents(1500 + 300 + 400 + 250 + 245));
  CHECK(plan.stages[1].cash_after == cents(5000 + 20000 - 6105 - 2695));
  CHECK(plan.stages[0].opened == std::vector<int>{0, 1});
  CHECK(plan.value == 30 + 40 + 9 + 6 - 2 * (90 + 30));
  CHECK(plan.minutes == 120 + 90 + 100 + 20 + 90 + 30);
}

TEST_CASE("a plan that does nothing is accepted") {
  ProblemData data = sample();
  data.jobs[1].must = false;
  CHECK(faults(data, costed(data, {{-1, -1, -1, -1, -1}, {-1, -1}})).empty());
}

TEST_CASE("other schedules of the sample are accepted") {
  for (const int with_tool : {-1, 0, 1})
    for (const int j3 : {-1, 2}) {
      ProblemData data = sample();
      data.one_of.clear();
      CHECK(faults(data, costed(data, {{0, 1, 0, j3, 1}, {with_tool, -1}})).empty());
      CHECK(faults(data, costed(data, {{1, 1, 1, j3, 1}, {with_tool == 0 ? -1 : with_tool, -1}})).empty());
      CHECK(faults(data, costed(data, {{0, 2, 0, j3, 2}, {with_tool == 1 ? 2 : with_tool, -1}})).empty());
    }
}

// Each of the following makes the problem stricter in one rule, which the unchanged plan then breaks.

TEST_CASE("a job before its first stage is found") {
  const auto findings = with_problem([](ProblemData& d) { d.jobs[0].earliest = 1; });
  check_only(findings, Rule::window);
  CHECK(has(findings, Rule::window, 0, 0));
}

TEST_CASE("a job after its last stage is found") {
  check_only(with_problem([](ProblemData& d) { d.jobs[1].latest = 0; }), Rule::window);
}

TEST_CASE("a must that is left out is found") {
  const auto findings = with_problem([](ProblemData& d) { d.jobs[3].must = true; });
  check_only(findings, Rule::must);
  CHECK(has(findings, Rule::must, -1, 3));
}

TEST_CASE("a job before the one it comes after is found") {
  check_only(with_problem([](ProblemData& d) {
               d.jobs[1].after.clear();
               d.jobs[0].after = {4};
             }),
             Rule::order);
}

TEST_CASE("a job that comes after one left out is found") {
  check_only(with_problem([](ProblemData& d) { d.jobs[4].after = {3}; }), Rule::order);
}

TEST_CASE("two jobs of a group of which one may be done are found") {
  check_only(with_problem([](ProblemData& d) { d.one_of.push_back({0, 3, 1}); }), Rule::one_of);
}

TEST_CASE("jobs of a group in different stages are found") {
  check_only(with_problem([](ProblemData& d) { d.together.push_back({0, 4}); }), Rule::together);
}

TEST_CASE("a group of which only some jobs are done is found") {
  check_only(with_problem([](ProblemData& d) { d.together.push_back({3, 0}); }), Rule::together);
  check_only(with_problem([](ProblemData& d) { d.together.push_back({0, 3}); }), Rule::together);
}

TEST_CASE("one minute too many is found and the exact minutes are not") {
  CHECK(with_problem([](ProblemData& d) { d.stages[0].minutes = 310; }).empty());
  const auto findings = with_problem([](ProblemData& d) { d.stages[0].minutes = 309; });
  check_only(findings, Rule::hours);
  CHECK(has(findings, Rule::hours, 0, -1));
}

TEST_CASE("one cent under the floor is found with what is short") {
  const Money left = sample_plan().stages[1].cash_after;
  CHECK(with_problem([&](ProblemData& d) { d.stages[1].floor = left; }).empty());
  const auto findings = with_problem([&](ProblemData& d) { d.stages[1].floor = left + cents(1); });
  check_only(findings, Rule::cash);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].stage == 1);
  CHECK(findings[0].amount == cents(1));
}

TEST_CASE("carriers that disagree on a key are found in every stage") {
  const auto findings = with_problem([](ProblemData& d) { d.carriers[4].mates = {{7, 1}}; });
  check_only(findings, Rule::mate);
  CHECK(has(findings, Rule::mate, 1, 7));
  CHECK(has(findings, Rule::mate, 2, 7));
  CHECK_FALSE(has(findings, Rule::mate, 0, 7));
}

TEST_CASE("a clash without its adaptation is found until a job removes one side") {
  auto findings = with_problem([](ProblemData& d) { d.clashes[0].adapted_by.clear(); });
  check_only(findings, Rule::clash);
  CHECK(findings.size() == 3);
  findings = with_problem([](ProblemData& d) {
    d.clashes[0].adapted_by.clear();
    d.carriers[4].replaced_by = {4};
  });
  check_only(findings, Rule::clash);
  CHECK(findings.size() == 1);
  CHECK(has(findings, Rule::clash, 0, 0));
}

TEST_CASE("a tool that is used but cannot be hired is found") {
  const auto findings = with_plan([](Plan&) {});
  CHECK(findings.empty());
  CHECK(has(with_problem([](ProblemData& d) { d.tools[0].hire.reset(); }), Rule::tool, 0, 0));
  CHECK(has(with_problem([](ProblemData& d) { d.tools[1].hire.reset(); }), Rule::tool, 1, 1));
}

TEST_CASE("a tool bought for a stage that does not use it is found") {
  CHECK(has(with_plan([](Plan& p) { p.schedule.tool_bought[0] = 2; }), Rule::tool, 2, 0));
}

TEST_CASE("a tool hired where it is free is found") {
  CHECK(has(with_problem([](ProblemData& d) { d.tools[1].free = {1, 1, 0}; }), Rule::accounts, 1, -1));
}

TEST_CASE("a tool said to be bought but not ordered is found") {
  CHECK(has(with_plan([](Plan& p) { p.orders.pop_back(); }), Rule::tool, 1, 0));
}

TEST_CASE("a tool ordered but not said to be bought is found") {
  CHECK(has(with_plan([](Plan& p) { p.schedule.tool_bought[0] = -1; }), Rule::accounts, 1, 0));
}

TEST_CASE("goods ordered after their offer has ended are found") {
  CHECK(has(with_problem([](ProblemData& d) { d.articles[1].offers[0].until = on(-1); }), Rule::goods, 1, 1));
}

TEST_CASE("goods ordered before their offer has begun are found") {
  CHECK(has(with_problem([](ProblemData& d) { d.articles[1].offers[0].from = on(1); }), Rule::goods, 1, 1));
}

TEST_CASE("goods that arrive a day after the bench date are found") {
  CHECK(with_problem([](ProblemData& d) { d.articles[0].offers[0].lead_days = 7; }).empty());
  CHECK(has(with_problem([](ProblemData& d) { d.articles[0].offers[0].lead_days = 8; }), Rule::goods, 0, 0));
}

TEST_CASE("goods that a later payday could still pay are found") {
  const auto findings = with_problem([](ProblemData& d) { d.articles[1].offers[0].lead_days = 7; });
  check_only(findings, Rule::accounts);
  CHECK(has(findings, Rule::accounts, 1, 1));
}

TEST_CASE("goods from a supplier that does not offer them are found") {
  CHECK(
      has(with_problem([](ProblemData& d) { d.articles[1].offers[0].supplier = 0; }), Rule::accounts, 1, 1));
}

TEST_CASE("an article that is needed but not ordered is found") {
  CHECK(has(with_plan([](Plan& p) { p.orders.erase(p.orders.begin() + 1); }), Rule::goods, 1, 1));
}

TEST_CASE("a spoilt one-use article that is not replaced is found") {
  CHECK(has(with_plan([](Plan& p) { p.orders[0].lines.pop_back(); }), Rule::goods, 0, 2));
}

TEST_CASE("a pack too few is found") {
  CHECK(has(with_plan([](Plan& p) { line_for(p, 1, 1).packs = 1; }), Rule::goods, 1, 1));
}

TEST_CASE("a pack too many is found") {
  CHECK(has(with_plan([](Plan& p) { line_for(p, 1, 1).packs = 3; }), Rule::accounts, 1, 1));
}

TEST_CASE("goods for a stage that needs none are found") {
  CHECK(has(with_plan([](Plan& p) {
              OrderLine extra = line_for(p, 1, 1);
              extra.for_stage = 2;
              p.orders[1].lines.push_back(extra);
            }),
            Rule::accounts, 2, 1));
}

TEST_CASE("goods split over two lines are found") {
  CHECK(has(with_plan([](Plan& p) {
              line_for(p, 1, 1).packs = 1;
              p.orders[1].lines.push_back(p.orders[1].lines.back());
            }),
            Rule::accounts, 1, 1));
}

TEST_CASE("stock that has gone off by the bench date is not counted") {
  const auto spoilt = [](ProblemData& d) { d.articles[1].on_hand[0].use_by = on(6); };
  CHECK(has(with_problem(spoilt), Rule::goods, 0, 1));
  CHECK(with_problem([](ProblemData& d) { d.articles[1].on_hand[0].use_by = on(8); }).empty());
}

TEST_CASE("stock that keeps for ever is used after stock that does not") {
  // Stage 0 takes all 300 of the lot that spoils and 50 of the other: with 100 more of it, only one pack is
  // bought for stage 1 (1200 less 150 leaves 1050, which is still two; less 250 leaves 950, which is one).
  CHECK(with_problem([](ProblemData& d) { d.articles[1].on_hand[1].amount = 200; }).empty());
  check_only(with_problem([](ProblemData& d) { d.articles[1].on_hand[1].amount = 300; }), Rule::accounts);
}

TEST_CASE("what is left of a pack counts only while it keeps") {
  ProblemData data = sample();
  data.jobs[3].needs = {{1, 800}};  // the 850 left over from stage 1 cover it in stage 2, 28 days later
  data.one_of.clear();
  const Plan plan = costed(data, {{0, 1, 0, 2, 1}, {1, -1}});
  CHECK(faults(data, plan).empty());
  data.articles[1].keeping_days = 28;
  CHECK(faults(data, plan).empty());
  data.articles[1].keeping_days = 27;
  CHECK(has(faults(data, plan), Rule::goods, 2, 1));
}

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
    ProblemData data = sample();
    data.suppliers[0].free_from = cents(amount);
    return data;
  };
  const Plan plan = costed(from(2150), sample_schedule());
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

TEST_CASE("an order without lines is found") {
  const auto findings = with_plan([](Plan& p) {
    Order empty;
    empty.stage = 2;
    empty.supplier = 1;
    p.orders.push_back(empty);
  });
  check_only(findings, Rule::accounts);
}

TEST_CASE("goods bought in a dearer way are found though all figures agree") {
  ProblemData dear = sample();
  dear.articles[0].offers[0].price = cents(3000);  // then supplier 1 is the cheaper way
  const Plan plan = costed(dear, sample_schedule());
  ProblemData cheap = sample();
  cheap.articles[0].offers[0].price = cents(2000);
  const auto findings = faults(cheap, plan);
  check_only(findings, Rule::accounts);
  REQUIRE(findings.size() == 1);
  CHECK(has(findings, Rule::accounts, 0, -1));
}

TEST_CASE("equally cheap ways are told apart by early cash and then by offer") {
  ProblemData data = sample();
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
      [](Plan& p) { p.schedule.stage_of[0] = 3; },
      [](Plan& p) { p.schedule.stage_of[0] = -2; },
      [](Plan& p) { p.schedule.stage_of.pop_back(); },
      [](Plan& p) { p.schedule.tool_bought[0] = 7; },
      [](Plan& p) { p.schedule.tool_bought.clear(); },
      [](Plan& p) { p.orders[0].stage = 3; },
      [](Plan& p) { p.orders[0].supplier = -1; },
      [](Plan& p) { p.orders[0].lines[0].article = 3; },
      [](Plan& p) { p.orders[0].lines[0].article = -1; },
      [](Plan& p) { p.orders[0].lines[0].tool = 0; },
      [](Plan& p) { p.orders[0].lines[0].offer = 3; },
      [](Plan& p) { p.orders[0].lines[0].for_stage = -1; },
  };
  for (const auto& change : changes) check_only(with_plan(change), Rule::window);
  check_only(with_plan([](Plan& p) { p.stages.pop_back(); }), Rule::accounts);
}

TEST_CASE("absurd pack counts are a finding and not a crash") {
  for (const std::int64_t packs : {INT64_MAX, INT64_MIN, std::int64_t{0}, std::int64_t{-1}})
    CHECK_FALSE(with_plan([&](Plan& p) { p.orders[0].lines[0].packs = packs; }).empty());
}
