#include "budgets/costing/basket_choice.hpp"

#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

/// One stage's shopping, by hand. A way is: offer, payday, supplier, price, first payday.
namespace fettlefund::budgets {
namespace {

using namespace testing;

using Ways = std::vector<Way>;

ProblemData suppliers(std::vector<Supplier> all) {
  ProblemData data = plain_stages(2);
  data.suppliers = std::move(all);
  return data;
}

TEST_CASE("a dearer article without delivery beats a cheaper one with it") {
  const ProblemData data = suppliers({{cents(10), {}}, {cents(0), {}}});
  const Ways ways{{0, 0, 0, cents(5), 0}, {1, 0, 1, cents(8), 0}};
  CHECK(choose_ways(data, {}, {{&ways, 1}}) == std::vector{1});
  CHECK(choose_ways(data, {}, {{&ways, 4}}) == std::vector{0});  // 20 + 10 against 32
}

TEST_CASE("dearer goods are taken that bring an order to its free-from amount") {
  const ProblemData data = suppliers({{cents(10), cents(14)}, {cents(0), {}}});
  const Ways first{{0, 0, 0, cents(7), 0}, {1, 0, 1, cents(6), 0}};
  const Ways second{{0, 0, 0, cents(7), 0}, {1, 0, 1, cents(5), 0}, {2, 0, 0, cents(4), 0}};
  // 11 elsewhere, 14 here; with 7 and 4 delivery would be paid.
  CHECK(choose_ways(data, {}, {{&first, 1}, {&second, 1}}) == std::vector{1, 1});
  const Ways dear{{0, 0, 0, cents(7), 0}, {1, 0, 1, cents(12), 0}};
  // 7 + 7 is free of delivery, 7 + 4 + 10 is not, 7 + 10 + 5 is dearer too.
  CHECK(choose_ways(data, {}, {{&dear, 1}, {&second, 1}}) == std::vector{0, 0});
}

TEST_CASE("what an order has already counts towards its free-from amount") {
  const ProblemData data = suppliers({{cents(10), cents(15)}, {cents(0), {}}});
  const Ways ways{{0, 0, 0, cents(5), 0}, {1, 0, 1, cents(4), 0}};
  const auto with = [&](std::int64_t placed) {
    return choose_ways(data, {{0, 0, cents(placed), false}}, {{&ways, 1}});
  };
  CHECK(with(10) == std::vector{0});  // it gets its delivery of 10 back
  CHECK(with(9) == std::vector{1});
}

TEST_CASE("of equal ways the later payday is chosen and then the lower offer") {
  const ProblemData data = suppliers({{cents(0), {}}, {cents(0), {}}});
  const Ways ways{{0, 0, 0, cents(5), 0}, {1, 1, 1, cents(5), 0}, {2, 1, 1, cents(5), 0}};
  CHECK(choose_ways(data, {}, {{&ways, 1}}) == std::vector{1});
}

TEST_CASE("of ways that come to the same with delivery the later payday is chosen") {
  const ProblemData data = suppliers({{cents(5), {}}, {cents(0), {}}});
  const Ways ways{{0, 0, 0, cents(10), 0}, {1, 1, 1, cents(15), 0}};
  CHECK(choose_ways(data, {}, {{&ways, 1}}) == std::vector{1});
}

}  // namespace
}  // namespace fettlefund::budgets
