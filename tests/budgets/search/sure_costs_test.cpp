#include <algorithm>

#include "budgets/search/attempt.hpp"
#include "budgets/values/lists.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/delivered_parts.hpp"
#include "tests/budgets/support/enlarged.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::brute_force;
using testing::cents;
using testing::delivered_parts;
using testing::enlarged;
using testing::plain_job;
using testing::plain_stages;
using testing::random_cases;
using testing::random_problem;

/// What units done in one stage come to, as runs by sure costs see it.
struct Doings {
  std::vector<Line> lines;
  std::vector<int> onces;
  std::int64_t additive = 0;  ///< relaxed cost, its units
  std::int64_t own = 0;       ///< minor units, beside goods and deliveries

  Doings(const Relaxed& relaxed, int stage, const std::vector<int>& units, std::vector<int>& had,
         Stores& stores) {
    const Model& model = *relaxed.model;
    std::vector<int> jobs, removals, tools;
    std::vector<char> open(relaxed.charges.size(), 0);
    const auto add = [](std::vector<int>& to, const std::vector<int>& from) {
      to.insert(to.end(), from.begin(), from.end());
    };
    for (const int u : units) {
      const Unit& unit = model.units()[u];
      add(jobs, unit.jobs), add(removals, unit.removals), add(tools, unit.tools);
      own += unit.cost;
      additive += relaxed.cost_at(u, stage);
      for (const int e : relaxed.charges_of[u]) {
        if (!open[e]) additive += relaxed.charges[e].cost;
        open[e] = 1;
      }
      for (const int k : relaxed.tools_of[u]) {
        if (had[k] != 0) continue;
        had[k] = 1;
        additive += relaxed.tool_cost[k];
        if (k >= relaxed.goods->tool_onces()) continue;
        onces.push_back(k);
        own += relaxed.tool_cost[k] * relaxed.unit_cost;
      }
    }
    sort_unique(jobs), sort_unique(removals), sort_unique(onces);
    for (const int r : removals)
      add(tools, model.data().removals[r].tools), own += model.data().removals[r].cost.minor();
    sort_unique(tools);
    for (const int k : tools) own += relaxed.goods->hire(k);
    std::vector<OrderLine> missing;
    if (!units.empty())
      model.buyer().list(stage, demand_of(model.problem(), jobs, removals, {}), stores, lines, missing);
    model.buyer().forget(stage + 1, stores);
  }
};

/// A plan stage by stage.
class Walk {
 public:
  Walk(const Relaxed& relaxed, const Schedule& schedule)
      : relaxed_(relaxed),
        orders_(relaxed),
        schedule_(schedule),
        had_(relaxed.tools(), 0),
        reach_(orders_.no_reach()),
        stores_(relaxed.model->buyer().opening_stores()) {}

  /// Goes through the next stage. False: what it does could not be ordered.
  bool next() {
    std::vector<int> units;
    std::vector<char> left(relaxed_.units, 0), done(relaxed_.units, 0);
    for (int u = 0; u < relaxed_.units; ++u) {
      const int at = schedule_.stage_of[relaxed_.model->units()[u].jobs[0]];
      if (at == stage_) units.push_back(u);
      done[u] = at >= 0 && at <= stage_;
      left[u] = !done[u] && relaxed_.model->units()[u].last > stage_;
    }
    const Doings doings(relaxed_, stage_, units, had_, stores_);
    const SureOrders::Doing doing{stage_, doings.lines, doings.onces, spent, reach_};
    const std::int64_t goods = orders_.least(doing);
    additive += doings.additive;
    spent += doings.own + (goods == SureOrders::none ? 0 : goods);
    if (++stage_ < relaxed_.stages) {
      std::vector<std::int64_t> after;
      orders_.reach_after(doing, spent, left, had_, after);
      reach_ = after;
      Bits none(words_for(relaxed_.model->data().tools.size()), 0), all(words_for(relaxed_.units), 0);
      for (int u = 0; u < relaxed_.units; ++u) {
        if (done[u]) set_bit(all.data(), u);
      }
      axis = (spent - relaxed_.goods->saving(stores_, none.data(), all.data(), left, stage_)) /
             relaxed_.unit_cost;
    }
    return goods != SureOrders::none;
  }

  std::int64_t additive = 0;  ///< relaxed costs so far, without orders, units of the relaxed problem
  std::int64_t spent = 0;     ///< what is sure, minor units
  std::int64_t axis = 0;      ///< of that what later stages cannot save, units of the relaxed problem

 private:
  const Relaxed& relaxed_;
  SureOrders orders_;
  const Schedule& schedule_;
  std::vector<int> had_;
  std::vector<std::int64_t> reach_;
  Stores stores_;
  int stage_ = 0;
};

/// Bare spending up to and including each payday.
std::vector<std::int64_t> paid_by(const Plan& plan) {
  std::vector<std::int64_t> paid;
  for (const StageCost& stage : plan.stages)
    paid.push_back((paid.empty() ? 0 : paid.back()) + (stage.spent - stage.allowance).minor());
  return paid;
}

/// Nothing that is sure is missing from what the plan has paid by any payday. Nor if from some stage on only
/// the relaxed costs are counted, as the bound of a beginning does. Returns what is sure beyond relaxed
/// costs.
std::int64_t check_payments(const Problem& problem, const Plan& plan) {
  const Model model(problem);
  const Relaxed relaxed(model);
  const std::vector<std::int64_t> paid = paid_by(plan);
  Walk walk(relaxed, plan.schedule);
  std::vector<std::int64_t> additive, axis;
  for (int t = 0; t < problem.stage_count(); ++t) {
    CHECK(walk.next());
    CHECK(walk.spent <= paid[t]);
    additive.push_back(walk.additive);
    axis.push_back(walk.axis);
    for (int earlier = 0; earlier < t; ++earlier)
      CHECK((axis[earlier] + additive[t] - additive[earlier]) * relaxed.unit_cost <= paid[t]);
  }
  return walk.spent - walk.additive * relaxed.unit_cost;
}

TEST_CASE("what orders are sure to cost has been paid by every payday") {
  int some = 0;
  std::vector<int> seeds{6250, 15344};  // where what comes off a pack's price is all of it
  for (int seed = 0; seed < random_cases(600); ++seed) seeds.push_back(seed);
  for (const int seed : seeds) {
    CAPTURE(seed);
    const ProblemData data = enlarged(random_problem(700'000 + seed, 6, 4), seed % 2 == 0 ? 1 : 1237);
    const Problem problem(data);
    for (int draw = 0; draw < 12; ++draw) {
      const auto drawn = testing::random_schedule(seed * 20 + draw, data);
      const auto costed = cost(problem, {drawn.stage_of, drawn.tool_bought});
      const Plan* plan = std::get_if<Plan>(&costed);
      if (plan == nullptr) continue;
      some += check_payments(problem, *plan) > 0 ? 1 : 0;
    }
    const auto truth = brute_force(problem);
    if (!truth.best) continue;
    some += check_payments(problem, *truth.best) > 0 ? 1 : 0;
  }
  CHECK(some > random_cases(600) / 20);
}

/// A bound by sure costs, and whether everything was looked at.
Outcome bounded(const Problem& problem, std::size_t width, std::optional<Found> known = {}) {
  const Model model(problem);
  Relaxed relaxed(model);
  relaxed.exact = false;  // where it is the bound has to hold as well
  Bounder bounder(relaxed, 100'000);
  Meter meter(std::int64_t{1} << 40, nullptr);
  Search search(model, relaxed, bounder, meter, {}, Costing::sure);
  if (known) search.offer(*known);
  return search.run(width, std::int64_t{1} << 60, false);
}

TEST_CASE("what removals use up can be put into orders placed before") {
  for (const int seed : {3455, 4107}) {
    CAPTURE(seed);
    const Problem problem(enlarged(random_problem(710'000 + seed, 7, 4), 1237));
    const auto truth = brute_force(problem);
    REQUIRE(truth.best);
    CHECK(bounded(problem, 100'000).bound >= truth.best->value);
  }
}

TEST_CASE("a bound by sure costs is never below the best plan") {
  int narrow = 0, equal = 0, plans = 0;
  for (int seed = 0; seed < random_cases(500); ++seed) {
    CAPTURE(seed);
    const Problem problem(enlarged(random_problem(710'000 + seed, 7, 4), seed % 2 == 0 ? 1 : 1237));
    const auto truth = brute_force(problem);
    if (!truth.best) continue;
    ++plans;
    const Outcome all = bounded(problem, 100'000);
    CHECK(all.exhausted);
    CHECK(all.bound >= truth.best->value);
    const Outcome few = bounded(problem, 1 + seed % 3);
    CHECK(few.bound >= truth.best->value);
    narrow += few.exhausted ? 0 : 1;
    equal += all.bound == truth.best->value ? 1 : 0;
    const Found known{truth.best->schedule, {truth.best->value, 0, 0}};
    const Outcome beside = bounded(problem, 100'000, known);
    CHECK(beside.bound >= truth.best->value);
  }
  CHECK(narrow > plans / 20);
  CHECK(equal > plans / 2);
}

Verdict attempted(const Problem& problem, bool sure_costs) {
  Meter meter(150'000'000, nullptr);
  Attempt attempt(problem, {100'000, 1000, sure_costs}, meter);
  return attempt.optimise();
}

TEST_CASE("with steps for sure costs an attempt knows no higher bound than these have") {
  for (const int seed : {3, 6}) {
    CAPTURE(seed);
    const Problem problem(delivered_parts(seed, 12, 300));
    const Verdict without = attempted(problem, false);
    const Verdict with = attempted(problem, true);
    const Outcome sure = bounded(problem, 100'000);
    REQUIRE(sure.exhausted);
    REQUIRE(with.best);
    CHECK(with.bound <= sure.bound);
    CHECK(with.bound >= with.best->rank.value);
    CHECK(with.bound < without.bound);
  }
}

/// Two jobs with a part each from one supplier, two stages.
ProblemData parts_of_one_supplier(std::int64_t delivery, std::int64_t price, int lead_days = 0) {
  ProblemData data = plain_stages(2);
  data.suppliers.push_back({cents(delivery), {}});
  for (int j = 0; j < 2; ++j) {
    data.articles.push_back({1000, {}, {}, {{0, cents(price), lead_days, {}, {}}}});
    data.jobs.push_back(plain_job(data, 10));
    data.jobs.back().needs = {{j, 1000}};
  }
  return data;
}

/// What is sure beyond the relaxed costs in a stage that does all units of the problem that can be done in
/// it.
std::int64_t orders_of(const ProblemData& data, int stage, std::int64_t before = 0, std::int64_t reach = 0) {
  const Problem problem(data);
  const Model model(problem);
  const Relaxed relaxed(model);
  SureOrders orders(relaxed);
  std::vector<int> units, had(relaxed.tools(), 0);
  for (int u = 0; u < relaxed.units; ++u) {
    if (model.allowed(u, stage)) units.push_back(u);
  }
  Stores stores = model.buyer().opening_stores();
  const Doings doings(relaxed, stage, units, had, stores);
  const std::vector<std::int64_t> reaches(data.suppliers.size(), reach);
  const std::int64_t least = orders.least({stage, doings.lines, doings.onces, before, reaches});
  return least == SureOrders::none ? -1 : doings.own + least - doings.additive * relaxed.unit_cost;
}

TEST_CASE("one delivery is sure for all parts of a stage") {
  ProblemData data = parts_of_one_supplier(7, 20);
  CHECK(orders_of(data, 0) == 7);
  data.articles[1].offers[0].supplier = 1;
  data.suppliers.push_back({cents(9), {}});
  CHECK(orders_of(data, 0) == 16);
}

TEST_CASE("a delivery is saved by a dearer offer where that costs less") {
  ProblemData data = parts_of_one_supplier(7, 20);
  data.suppliers.push_back({Money(), {}});
  for (Article& article : data.articles) article.offers.push_back({1, cents(22), 0, {}, {}});
  CHECK(orders_of(data, 0) == 4);
  for (Article& article : data.articles) article.offers[1].price = cents(25);
  CHECK(orders_of(data, 0) == 7);
}

TEST_CASE("a later stage may have ordered before without a delivery of its own, if the money was there") {
  ProblemData data = parts_of_one_supplier(7, 30);
  data.opening = cents(50);
  CHECK(orders_of(data, 1, 90, 60) == 0);  // of 150 on the first payday 60 were left
  CHECK(orders_of(data, 1, 90, 29) == 7);  // but less to put into an order
  CHECK(orders_of(data, 1, 91, 60) == 7);  // 59 were left, not enough for both: one is ordered now
}

TEST_CASE("what has to be ordered a payday before cannot be paid for with the money of its own") {
  ProblemData data = parts_of_one_supplier(7, 40, 12);
  CHECK(orders_of(data, 1, 20, 80) == 0);
  CHECK(orders_of(data, 1, 20) == 7);  // no order to put it into: one of its own
  CHECK(orders_of(data, 1, 21) == -1);
}

TEST_CASE("a tool that has to be bought brings a delivery") {
  ProblemData data = plain_stages(2);
  data.suppliers.push_back({cents(7), {}});
  data.tools.push_back({{}, {{0, cents(20), 0, {}, {}}}, {}});
  data.jobs.push_back(plain_job(data, 10));
  data.jobs[0].tools = {0};
  CHECK(orders_of(data, 0) == 7);
  data.tools[0].hire = cents(15);
  CHECK(orders_of(data, 0) == 0);  // it may be hired
}

TEST_CASE("where there is too little money for an order to come free all of the delivery is sure") {
  // Two parts of 40 with one more to come for 20 that would make the order large enough.
  ProblemData data = parts_of_one_supplier(9, 40);
  data.articles.push_back({1000, {}, {}, {{0, cents(20), 0, {}, {}}}});
  data.jobs.push_back(plain_job(data, 10));
  data.jobs[2].needs = {{2, 1000}};
  data.jobs[2].earliest = 1;
  data.suppliers[0].free_from = cents(100);
  data.jobs[0].latest = data.jobs[1].latest = 0;
  // Prices are lower by 9 / 100, rounded to what is least, so that the two have 72 and the order pays 9.
  CHECK(orders_of(data, 0) == 9);
  data.stages[0].cash_in = cents(99);
  CHECK(orders_of(data, 0) == 17);  // 40 + 40 + 9 = 72 + 17
}

TEST_CASE("a cheap offer of an earlier payday takes the money of that payday") {
  ProblemData data = parts_of_one_supplier(7, 20);
  data.jobs.pop_back();
  data.articles.pop_back();
  data.articles[0].offers[0].until = data.stages[0].payday;
  data.suppliers.push_back({Money(), {}});
  data.articles[0].offers.push_back({1, cents(30), 0, {}, {}});
  CHECK(orders_of(data, 1, 80) == 7);   // 20 were left: an order of its own
  CHECK(orders_of(data, 1, 81) == 10);  // the dearer offer
}

TEST_CASE("an order cannot come free with money that other goods take") {
  ProblemData data = parts_of_one_supplier(9, 40);
  data.suppliers[0].free_from = cents(100);
  data.articles.push_back({1000, {}, {}, {{0, cents(90), 0, {}, {}}}});  // so that so large an order can be
  data.jobs.push_back(plain_job(data, 10));
  data.jobs[2].needs = {{2, 1000}};
  data.jobs[2].earliest = 1;
  data.jobs[0].latest = data.jobs[1].latest = 0;
  data.suppliers.push_back({Money(), {}});
  data.articles[1].offers[0].supplier = 1;
  data.stages[0].cash_in = cents(140);
  CHECK(orders_of(data, 0) == 9);  // 36 + 9 for the first part
  data.stages[0].cash_in = cents(139);
  CHECK(orders_of(data, 0) == 13);
}

TEST_CASE(
    "where orders are mostly so large as to come free a small one still pays where there is no money for "
    "more") {
  ProblemData data = plain_stages(2);
  data.suppliers.push_back({cents(9), cents(50)});
  for (int j = 0; j < 4; ++j) {
    data.articles.push_back({1000, {}, {}, {{0, cents(j == 0 ? 19 : 60), 0, {}, {}}}});
    data.jobs.push_back(plain_job(data, 10));
    data.jobs.back().needs = {{j, 1000}};
    if (j > 0) data.jobs.back().earliest = 1;
  }
  data.stages[0].cash_in = cents(50);
  CHECK(orders_of(data, 0) == 0);
  data.stages[0].cash_in = cents(49);
  CHECK(orders_of(data, 0) == 9);
}

TEST_CASE("an order that is large enough costs its goods, and no delivery beside") {
  ProblemData data = plain_stages(6);
  data.suppliers.push_back({cents(9), cents(50)});
  for (int j = 0; j < 2; ++j) {
    data.articles.push_back({1000, {}, {}, {{0, cents(40), 0, {}, {}}}});
    data.jobs.push_back(plain_job(data, 10));
    data.jobs.back().needs = {{j, 1000}};
  }
  CHECK(orders_of(data, 0) == 16);  // the relaxed problem has 32 for each
}

/// Stages with that cash, and supplier 0 with a delivery of 7, supplier 1 without.
ProblemData stages_with(const std::vector<std::int64_t>& cash) {
  ProblemData data = plain_stages(static_cast<int>(cash.size()));
  for (std::size_t t = 0; t < cash.size(); ++t) data.stages[t].cash_in = cents(cash[t]);
  data.suppliers = {{cents(7), {}}, {Money(), {}}};
  return data;
}

/// Adds a job with a part of that price, in the stages from `first` to `last`.
void add_job(ProblemData& data, std::int64_t want, int supplier, std::int64_t price, int first, int last) {
  data.jobs.push_back(plain_job(data, want));
  data.jobs.back().needs = {{static_cast<int>(data.articles.size()), 1000}};
  data.jobs.back().earliest = first;
  data.jobs.back().latest = last;
  data.articles.push_back({1000, {}, {}, {{supplier, cents(price), 0, {}, {}}}});
}

/// The best value by enumeration; the bound by sure costs is to be the same.
std::int64_t value_and_bound(const ProblemData& data) {
  const Problem problem(data);
  const auto truth = brute_force(problem);
  REQUIRE(truth.best);
  const Outcome outcome = bounded(problem, 1000);
  CHECK(outcome.exhausted);
  CHECK(outcome.bound == truth.best->value);
  return truth.best->value;
}

TEST_CASE("a tool bought before brings no delivery again") {
  ProblemData data = stages_with({27, 5});
  data.tools.push_back({{}, {{0, cents(20), 0, {}, {}}}, {}});
  for (int t = 0; t < 2; ++t) {
    data.jobs.push_back(plain_job(data, 10, t == 0 ? 0 : 5));
    data.jobs[t].tools = {0};
    data.jobs[t].earliest = t;
  }
  CHECK(value_and_bound(data) == 30);
}

TEST_CASE(
    "of two ways to the same jobs the one that leaves money for an order that later ones can join is kept") {
  // The first part from supplier 0 and then the second from supplier 1 is worth more, but leaves nothing on
  // the first payday to put the third into that order; the other way round it can be joined on the second.
  ProblemData data = stages_with({27, 50, 0});
  add_job(data, 12, 0, 20, 0, 1);
  add_job(data, 10, 1, 20, 0, 1);
  add_job(data, 50, 0, 30, 2, 2);
  CHECK(value_and_bound(data) == 24 + 30 + 50);
  data.stages[1].cash_in = cents(49);
  CHECK(value_and_bound(data) == 36 + 50);
}

TEST_CASE("nothing is put into an order once its money has been spent on something else") {
  ProblemData data = stages_with({77, 0, 30, 0});
  add_job(data, 10, 0, 20, 0, 0);
  data.jobs.push_back(plain_job(data, 100, 50));
  data.jobs[1].earliest = data.jobs[1].latest = 1;
  add_job(data, 5, 0, 30, 3, 3);
  CHECK(value_and_bound(data) == 40 + 300);
  data.stages[2].cash_in = cents(37);
  CHECK(value_and_bound(data) == 40 + 300 + 5);
}

/// Two jobs, in the first stage and `later` stages after it, that take `first` and `second` of a pack of 10
/// for 20.
ProblemData shared_pack(int later, std::int64_t first, std::int64_t second, std::optional<int> keeping_days) {
  std::vector<std::int64_t> cash(later + 1, 0);
  cash[0] = 20;
  ProblemData data = stages_with(cash);
  data.articles.push_back({10, keeping_days, {}, {{1, cents(20), 0, {}, {}}}});
  for (const int stage : {0, later}) {
    data.jobs.push_back(plain_job(data, 1));
    data.jobs.back().needs = {{0, stage == 0 ? first : second}};
    data.jobs.back().earliest = data.jobs.back().latest = stage;
  }
  data.jobs.push_back(plain_job(data, 1));  // so that what all need is more than a pack
  data.jobs.back().needs = {{0, 9}};
  data.jobs.back().earliest = data.jobs.back().latest = later;
  return data;
}

TEST_CASE("the rest of a pack serves as long as it keeps and as far as it goes") {
  CHECK(value_and_bound(shared_pack(1, 5, 5, std::nullopt)) == 3);
  CHECK(value_and_bound(shared_pack(1, 5, 6, std::nullopt)) == 2);
  CHECK(value_and_bound(shared_pack(2, 5, 5, 60)) == 4);
  CHECK(value_and_bound(shared_pack(2, 5, 5, 59)) == 3);
}

TEST_CASE("a pack is paid for whole, however little of it is needed now") {
  ProblemData data = shared_pack(1, 5, 5, std::nullopt);
  data.stages[0].cash_in = cents(19);
  CHECK(value_and_bound(data) == 0);
}

TEST_CASE("a tool that can only be hired is paid for in each stage that uses it") {
  ProblemData data = stages_with({15, 14});
  data.tools.push_back({{}, {}, cents(15)});
  for (int t = 0; t < 2; ++t) {
    data.jobs.push_back(plain_job(data, 10));
    data.jobs[t].tools = {0};
    data.jobs[t].earliest = data.jobs[t].latest = t;
  }
  CHECK(value_and_bound(data) == 20);
  data.stages[1].cash_in = cents(15);
  CHECK(value_and_bound(data) == 30);
}

}  // namespace
}  // namespace fettlefund::budgets::search
