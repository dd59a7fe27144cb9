#include "lib/staging/stock.hpp"

#include "tests/lib/support/build_fixture.hpp"

#include <doctest/doctest.h>

/// What is on hand after what the record tells, worked out by hand.
namespace fettlefund::planning {
namespace {

using budgets::make_date;

const Date today = make_date(2027, 3, 1);

/// Oil in tins of 1000 that keeps 30 days; the job "fork" uses 400 of it.
test::BuildMaker with_oil() {
  test::BuildMaker maker;
  build::Article& oil = maker.article("oil");
  oil.keeps_days = 30;
  oil.pack = 1000;
  maker.job("fork").uses = {{"oil", 400}};
  return maker;
}

Bought bought(std::int64_t packs, Date arrives) {
  Bought one;
  one.key = "oil@1";
  one.what = read_key(one.key);
  one.packs = one.ordered = packs;
  one.date = today - 40;
  one.arrives = arrives;
  return one;
}

TEST_CASE("what has been bought and has not arrived yet is on its way") {
  test::BuildMaker maker = with_oil();
  History history;
  history.bought = {bought(2, today)};
  Stock stock = stock_on(maker.build(), history, today);
  REQUIRE(stock.on_hand.size() == 1);
  CHECK(stock.on_hand[0].amount == 2000);
  CHECK_FALSE(stock.on_hand[0].arrives);
  history.bought = {bought(2, today + 1)};
  stock = stock_on(maker.build(), history, today);
  REQUIRE(stock.on_hand.size() == 1);
  CHECK(stock.on_hand[0].arrives == today + 1);
}

TEST_CASE("what a job leaves in a pack was opened on its day and the other packs are closed") {
  test::BuildMaker maker = with_oil();
  History history;
  history.bought = {bought(2, today - 40)};
  history.done = {{"fork", today - 5, {}}};
  const Stock stock = stock_on(maker.build(), history, today);
  REQUIRE(stock.on_hand.size() == 2);
  CHECK(stock.on_hand[0].amount == 1000);
  CHECK_FALSE(stock.on_hand[0].opened);
  CHECK(stock.on_hand[1].amount == 600);
  CHECK(stock.on_hand[1].opened == today - 5);
  CHECK(stock.notes.empty());
}

TEST_CASE("what is opened is used up to its last day and not after it") {
  test::BuildMaker maker = with_oil();
  maker.build().on_hand = {{"oil", 400, today - 35}};
  History history;
  history.done = {{"fork", today - 5, {}}};
  CHECK(stock_on(maker.build(), history, today).notes.empty());
  history.done[0].date = today - 4;
  CHECK(stock_on(maker.build(), history, today).notes.size() == 1);
}

TEST_CASE("what is lost of the stock at the start is there no more") {
  test::BuildMaker maker = with_oil();
  maker.build().on_hand = {{"oil", 3000, {}}};
  History history;
  history.gone = {{"oil", 2}};
  const Stock stock = stock_on(maker.build(), history, today);
  REQUIRE(stock.on_hand.size() == 1);
  CHECK(stock.on_hand[0].amount == 1000);
}

}  // namespace
}  // namespace fettlefund::planning
