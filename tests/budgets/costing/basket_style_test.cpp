#include "budgets/costing/basket_style.hpp"

#include <map>
#include <utility>

#include "budgets/costing/basket_choice.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace {

using namespace fettlefund::budgets;
using namespace fettlefund::testing;

constexpr Style as_cheap_as_can_be{};
constexpr Style late{true, false};
constexpr Style joined{false, true};

/// Two suppliers that charge 5, the second nothing from 50 on.
ProblemData two_suppliers() {
  ProblemData data = plain_stages(4);
  data.suppliers = {{cents(5), {}}, {cents(5), cents(50)}};
  return data;
}

using Ways = std::vector<Way>;

/// Offer, payday, supplier, price, first payday.
Way way(int offer, int payday, int supplier, int price, int first) {
  return {offer, payday, supplier, cents(price), first};
}

struct Taken {
  int offer, payday;
  friend bool operator==(const Taken&, const Taken&) = default;
};

std::vector<Taken> taken(const std::vector<OpenOrder>& placed, const std::vector<Ways>& things, Style style) {
  std::vector<Wanted> wanted;
  for (const Ways& ways : things) wanted.push_back({&ways, 1});
  std::vector<Taken> result;
  for (const Way& chosen : choose_in_style(two_suppliers(), placed, wanted, style))
    result.push_back({chosen.offer, chosen.stage});
  return result;
}

TEST_CASE("late goods are ordered on the last payday that any offer allows") {
  const std::vector<Ways> things{{way(0, 1, 0, 10, 0), way(1, 2, 0, 14, 0)}};
  CHECK(taken({}, things, as_cheap_as_can_be) == std::vector<Taken>{{0, 1}});
  CHECK(taken({}, things, late) == std::vector<Taken>{{1, 2}});
}

TEST_CASE("what would pay a delivery of its own joins the last earlier order that all of it can join") {
  const std::vector<OpenOrder> placed{{0, 0, cents(9), false}, {1, 0, cents(9), false}};
  CHECK(taken(placed, {{way(0, 3, 0, 10, 0)}, {way(1, 3, 0, 10, 1)}}, joined) ==
        std::vector<Taken>{{0, 1}, {1, 1}});
  CHECK(taken(placed, {{way(0, 3, 0, 10, 0)}, {way(1, 3, 0, 10, 2)}}, joined) ==
        std::vector<Taken>{{0, 3}, {1, 3}});
  CHECK(taken(placed, {{way(0, 3, 0, 10, 0)}}, as_cheap_as_can_be) == std::vector<Taken>{{0, 3}});
}

TEST_CASE("a dearer offer joins another order only where that costs less than the delivery saved") {
  const std::vector<OpenOrder> placed{{1, 0, cents(9), false}};
  CHECK(taken(placed, {{way(0, 3, 1, 10, 3), way(1, 3, 0, 14, 0)}}, joined) == std::vector<Taken>{{1, 1}});
  CHECK(taken(placed, {{way(0, 3, 1, 10, 3), way(1, 3, 0, 15, 0)}}, joined) == std::vector<Taken>{{0, 3}});
}

TEST_CASE("joining counts the price of every pack") {
  const std::vector<OpenOrder> placed{{1, 0, cents(9), false}};
  const Ways ways{way(0, 3, 1, 10, 3), way(1, 3, 0, 12, 0)};
  const auto payday_of = [&](std::int64_t packs) {
    return choose_in_style(two_suppliers(), placed, {{&ways, packs}}, joined).front().stage;
  };
  CHECK(payday_of(2) == 1);  // 4 more against a delivery of 5
  CHECK(payday_of(3) == 3);
}

TEST_CASE("an order that is free of delivery stays where it is") {
  const std::vector<OpenOrder> placed{{1, 1, cents(9), false}};
  CHECK(taken(placed, {{way(0, 3, 1, 49, 0)}}, joined) == std::vector<Taken>{{0, 1}});
  CHECK(taken(placed, {{way(0, 3, 1, 50, 0)}}, joined) == std::vector<Taken>{{0, 3}});
}

TEST_CASE("a basket of several stages joins orders up to the last stage that can") {
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(5), {}}};
  data.articles.push_back({});
  data.articles[0].offers = {{0, cents(7), 0, {}, {}}};
  const Problem problem(data);
  const Buyer buyer(problem);
  Stores stores;
  std::vector<std::vector<Line>> lines(2);
  std::vector<OrderLine> missing;
  for (int t = 0; t < 2; ++t) buyer.list(t, {{{0, 1000}}, {}}, stores, lines[t], missing);
  StyledBaskets baskets(problem.data(), buyer, lines);
  CHECK(baskets.picks({{}, {}}) == std::vector<Pick>{{0, 0}, {0, 0}});
  CHECK(baskets.picks({{}, joined}) == std::vector<Pick>{{0, 0}, {0, 1}});
  CHECK(baskets.picks({{}, {}}) == std::vector<Pick>{{0, 0}, {0, 0}});
}

Ways some_ways(Random& random) {
  Ways ways;
  const int count = 1 + random.below(3);
  for (int offer = 0; offer < count; ++offer) {
    const int payday = random.below(4);
    ways.push_back(way(offer, payday, random.below(2), 5 + random.below(40), random.below(payday + 1)));
  }
  return ways;
}

Money total(const ProblemData& data, const std::vector<OpenOrder>& placed, const std::vector<Way>& chosen) {
  std::map<std::pair<int, int>, Money> orders;
  Money sum;
  for (const OpenOrder& order : placed) orders[{order.stage, order.supplier}] += order.goods;
  for (const Way& one : chosen) orders[{one.stage, one.supplier}] += one.price;
  for (const auto& [where, goods] : orders) {
    const Supplier& supplier = data.suppliers[where.second];
    sum += goods;
    if (!supplier.free_from || goods < *supplier.free_from) sum += supplier.delivery;
  }
  return sum;
}

TEST_CASE("joining never costs more than the cheapest basket and keeps to the paydays of the offers") {
  const ProblemData data = two_suppliers();
  int cheaper = 0;
  for (int seed = 0; seed < random_cases(2000); ++seed) {
    Random random(seed);
    std::vector<Ways> things(1 + random.below(4));
    for (Ways& ways : things) ways = some_ways(random);
    std::vector<Wanted> wanted;
    for (const Ways& ways : things) wanted.push_back({&ways, 1});
    std::vector<OpenOrder> placed;
    if (random.below(2) == 0) placed.push_back({random.below(3), random.below(2), cents(20), false});
    const std::vector<Way> plain = choose_in_style(data, placed, wanted, as_cheap_as_can_be);
    const std::vector<Way> moved = choose_in_style(data, placed, wanted, joined);
    CAPTURE(seed);
    const std::vector<int> cheapest = choose_ways(data, placed, wanted);
    for (std::size_t i = 0; i < things.size(); ++i) {
      CHECK(plain[i].offer == things[i][cheapest[i]].offer);
      const Way& own = way_of(things[i], moved[i].offer);
      CHECK(moved[i].stage >= own.first);
      CHECK(moved[i].stage <= own.stage);
    }
    CHECK(total(data, placed, moved) <= total(data, placed, plain));
    cheaper += total(data, placed, moved) < total(data, placed, plain) ? 1 : 0;
  }
  CHECK(cheaper > 0);
}

}  // namespace
