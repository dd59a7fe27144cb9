#include <algorithm>

#include "budgets/search/bound/kernel.hpp"
#include "budgets/search/layers/layer.hpp"
#include "budgets/search/local/orders.hpp"
#include "budgets/search/model.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::Random;

TEST_CASE("blending takes the larger of two tables everywhere, also in place") {
  Random random(5);
  for (int round = 0; round < 200; ++round) {
    const int count = random.below(70);
    const int shift = random.below(20);
    const std::int32_t gain = random.between(-50, 50);
    std::vector<std::int32_t> table(count + shift);
    for (auto& x : table) x = random.between(-1000, 1000);
    std::vector<std::int32_t> expected = table;
    for (int i = 0; i < count; ++i) expected[i] = std::max(table[i], table[i + shift] + gain);
    std::vector<std::int32_t> fresh(count);
    blend(fresh.data(), table.data(), table.data() + shift, gain, count);
    CHECK(std::equal(fresh.begin(), fresh.end(), expected.begin()));
    raise(table.data(), table.data() + shift, gain, count);
    CHECK(table == expected);
  }
}

Row row_with(std::int64_t value, std::int64_t spent, std::int64_t minutes, std::int64_t bound = 0) {
  Row row;
  row.value = value;
  row.spent = spent;
  row.minutes = minutes;
  row.bound = bound;
  row.key_words = 1;
  return row;
}

TEST_CASE("a layer keeps of the same units only what nothing dominates") {
  Layer layer;
  layer.insert(row_with(10, 50, 5), {1});
  layer.insert(row_with(10, 60, 5), {1});  // dearer
  layer.insert(row_with(9, 50, 1), {1});   // less worth
  CHECK(layer.size() == 1);
  layer.insert(row_with(9, 40, 9), {1});  // cheaper
  CHECK(layer.size() == 2);
  layer.insert(row_with(10, 60, 5), {2});  // other units
  CHECK(layer.size() == 3);
  layer.insert(row_with(12, 30, 1), {1});  // better than both
  CHECK(layer.trim(10, 0) == -1);
  CHECK(layer.size() == 2);
}

TEST_CASE("an open payday that has paid more keeps a row from dominating") {
  const Problem problem(testing::plain_stages(2));
  const Buyer buyer(problem);
  const BasketWays ways(problem, buyer);
  Layer layer(&ways);
  Row early = row_with(10, 50, 5);
  early.open_paydays = 2;
  Row late = early;
  layer.insert(early, {1, 40, 10});
  late.spent = 55;
  layer.insert(late, {1, 15, 40});  // more in all, but less on the first
  CHECK(layer.size() == 2);
  Row worse = early;
  worse.spent = 60;
  layer.insert(worse, {1, 40, 20});
  CHECK(layer.size() == 2);
}

/// One of the ways of buying that could stand side by side: paid for so much a payday, with these orders.
Tally random_tally(const ProblemData& data, testing::Random& random) {
  Tally tally;
  for (int p = 0; p < static_cast<int>(data.stages.size()); ++p) {
    std::int64_t paid = random.below(40);
    for (int s = 0; s < static_cast<int>(data.suppliers.size()); ++s) {
      if (!random.chance(50)) continue;
      const Supplier& supplier = data.suppliers[s];
      const Money goods = Money::of_minor(random.below(6) * 10);
      const bool free = supplier.free_from && goods >= *supplier.free_from;
      tally.orders.push_back({p, s, goods, random.chance(20)});
      paid += free ? goods.minor() : (goods + supplier.delivery).minor();
    }
    tally.paid.push_back(paid);
  }
  return tally;
}

TEST_CASE("an order that still waits is not as good as one that is placed") {
  ProblemData data = testing::plain_stages(2);
  data.suppliers = {{Money::of_minor(7), {}}};
  const Problem problem(data);
  const Buyer buyer(problem);
  const BasketWays ways(problem, buyer);
  const std::vector<std::int64_t> paid{17, 0};
  const std::vector<OpenOrder> waiting{{0, 0, Money::of_minor(10), true}},
      placed{{0, 0, Money::of_minor(10), false}};
  const Standing one{waiting, paid.data(), 0, 2, 0}, other{placed, paid.data(), 0, 2, 0};
  CHECK(ways.match(one, other) == Match::level);
  CHECK(ways.match(other, one) == Match::equal);
}

TEST_CASE("what has to be paid for an order that is missing counts on its payday") {
  ProblemData data = testing::plain_stages(2);
  data.suppliers = {{Money::of_minor(7), {}}};
  const Problem problem(data);
  const Buyer buyer(problem);
  const BasketWays ways(problem, buyer);
  const std::vector<std::int64_t> less{5, 5}, more{5, 20}, early{20, 5};
  const std::vector<OpenOrder> none, placed{{0, 0, Money::of_minor(3), false}};
  const Standing without{none, less.data(), 0, 2, 0};
  CHECK(ways.match(without, {placed, more.data(), 0, 2, 0}) == Match::none);  // 7 more on the first payday
  CHECK(ways.match(without, {placed, early.data(), 0, 2, 0}) == Match::less);
}

TEST_CASE("what several ways of buying become can buy and pay as well as each of them") {
  for (const int allowance : {0, 250}) {
    CAPTURE(allowance);
    testing::Random random(5);
    ProblemData data = testing::plain_stages(3);
    data.allowance_bp = allowance;
    data.suppliers = {{Money::of_minor(7), Money::of_minor(30)}, {Money::of_minor(5), {}}};
    const Problem problem(data);
    const Buyer buyer(problem);
    const BasketWays ways(problem, buyer);
    int dearer = 0;
    for (int i = 0; i < 500; ++i) {
      CAPTURE(i);
      std::vector<Tally> tallies;
      for (int k = 0; k < 3; ++k) tallies.push_back(random_tally(data, random));
      const Tally all = ways.joined(tallies.data(), tallies.data() + tallies.size());
      const Standing one{all.orders, all.paid.data(), 0, 3, all.closed};
      for (const Tally& tally : tallies) {
        const Standing other{tally.orders, tally.paid.data(), 0, 3, tally.closed};
        CHECK(ways.match(one, other) != Match::none);
        dearer += ways.match(other, one) == Match::none ? 1 : 0;
        for (const OpenOrder& order : all.orders) {
          const auto same = [&](const OpenOrder& o) {
            return o.stage == order.stage && o.supplier == order.supplier && o.waits;
          };
          if (order.waits) CHECK(std::any_of(tally.orders.begin(), tally.orders.end(), same));
        }
      }
    }
    CHECK(dearer > 500);
  }
}

TEST_CASE("trimming keeps the highest bounds and tells of the best that goes") {
  Layer layer;
  for (int i = 0; i < 1000; ++i) {
    layer.insert(row_with(i, 0, 0, (i * 37) % 1000), {static_cast<std::uint64_t>(i)});
  }
  CHECK(layer.trim(100, 0) == 899);
  REQUIRE(layer.size() == 100);
  for (int i = 0; i < 100; ++i) CHECK(layer.row(i).bound == 999 - i);
  layer.insert(row_with(5000, 0, 0, 5), {static_cast<std::uint64_t>(layer.words(layer.row(0))[0])});
  CHECK(layer.trim(200, 0) == -1);
  CHECK(layer.size() == 100);
}

TEST_CASE("jobs that require each other become one unit, in an order that requirements allow") {
  CHECK(number_components({{1}, {0}, {0}}) == std::vector<int>{0, 0, 1});
  CHECK(number_components({{1}, {2}, {}}) == std::vector<int>{2, 1, 0});
  CHECK(number_components({{}, {}, {}}) == std::vector<int>{0, 1, 2});
  CHECK(number_components({{2}, {3}, {0, 1}, {}}) == std::vector<int>{2, 1, 2, 0});
}

TEST_CASE("a change that everything with a mate must follow draws the others along") {
  ProblemData data;
  data.jobs.resize(3);
  Carrier old_chain, old_sprocket, new_chain, new_sprocket;
  old_chain.mates = old_sprocket.mates = {{0, 1}};
  new_chain.mates = new_sprocket.mates = {{0, 2}};
  old_chain.replaced_by = {0};
  old_sprocket.replaced_by = {1};
  new_chain.brought_by = 0;
  new_sprocket.brought_by = 1;
  data.carriers = {old_chain, old_sprocket, new_chain, new_sprocket};
  const auto unit_of = number_components(required_jobs(data));
  CHECK(unit_of[0] == unit_of[1]);
  CHECK(unit_of[2] != unit_of[0]);
}

TEST_CASE("plans made by orders keep the relaxed problem's caps, time and order") {
  for (int seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    const Problem problem(testing::random_problem(seed, 12, 6));
    const Model model(problem);
    const Relaxed relaxed(model);
    Meter meter(2'000'000, nullptr);
    const auto stages = OrderImprover(relaxed, 1).run(std::vector<int>(relaxed.units, -1), 300'000, meter);
    for (int u = 0; u < relaxed.units; ++u) {
      if (stages[u] < 0) continue;
      CHECK(model.allowed(u, stages[u]));
      for (int b : model.units()[u].before) CHECK((stages[b] >= 0 && stages[b] <= stages[u]));
    }
  }
}

TEST_CASE("the allowance on a spending is the one that costing adds") {
  for (std::int64_t bp : {0, 1, 333, 500, 10000}) {
    for (std::int64_t bare : {0, 1, 19, 9999, 10000, 123456789}) {
      const Money expected = Money::of_minor(bare) + percentage_rounded_up(Money::of_minor(bare), bp);
      CHECK(with_allowance(bare, bp) == expected.minor());
    }
  }
}

}  // namespace
}  // namespace fettlefund::budgets::search
