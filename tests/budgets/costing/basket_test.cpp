#include "budgets/costing/basket.hpp"

#include "budgets/costing/costing.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

/// Orders and stock from stage to stage, by hand.
namespace fettlefund::budgets {
namespace {

using namespace testing;

/// Two stages; one article at 7, only on the first payday, with a delivery of 5.
ProblemData one_payday() {
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(5), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, {}, data.stages[0].payday}}}};
  return data;
}

/// Three stages; an article at 7 on every payday without delivery.
ProblemData always_on_offer() {
  ProblemData data = plain_stages(3);
  data.suppliers = {{cents(0), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, {}, {}}}}};
  return data;
}

void need(ProblemData& data, std::vector<Quantity> amounts) {
  for (const Quantity amount : amounts) {
    data.jobs.push_back(plain_job(data, 1));
    if (amount > 0) data.jobs.back().needs = {{0, amount}};
  }
}

/// What a plan with these jobs' stages spends; -1 where it breaks a rule.
std::int64_t spent(const ProblemData& data, const std::vector<int>& stage_of) {
  const std::vector<int> no_tools(data.tools.size(), -1);
  const auto costed = cost(Problem(data), {stage_of, no_tools});
  const Plan* plan = std::get_if<Plan>(&costed);
  return plan == nullptr ? -1 : plan->spent.minor();
}

Receipt bought_after_one(const ProblemData& data) {
  const Problem problem(data);
  const Buyer buyer(problem);
  Stores stores = buyer.opening_stores();
  Receipt receipt;
  buyer.buy(0, {{{0, 1000}}, {}}, stores, receipt);
  buyer.buy(1, {{{0, 1000}}, {}}, stores, receipt);
  return receipt;
}

TEST_CASE("goods for a later stage that join an order pay no second delivery") {
  const Receipt receipt = bought_after_one(one_payday());
  REQUIRE(receipt.charges.size() == 1);
  CHECK(receipt.charges[0].stage == 0);
  CHECK(receipt.charges[0].goods == cents(7));
  CHECK(receipt.charges[0].delivery == cents(0));
}

TEST_CASE("goods that bring an order to its free-from amount get its delivery back") {
  ProblemData data = one_payday();
  data.suppliers[0].free_from = cents(14);
  CHECK(bought_after_one(data).charges[0].delivery == cents(-5));
}

TEST_CASE("an order is remembered as long as goods can join it, up to its free-from amount") {
  ProblemData data = one_payday();
  const auto remembered = [&](int stage) {
    const Problem problem(data);
    const Buyer buyer(problem);
    Stores stores = buyer.opening_stores();
    Receipt receipt;
    buyer.buy(0, {{{0, 1000}}, {}}, stores, receipt);
    buyer.forget(stage, stores);
    return stores.orders;
  };
  REQUIRE(remembered(1).size() == 1);
  CHECK(remembered(1)[0].goods == cents(0));
  data.suppliers[0].free_from = cents(20);
  CHECK(remembered(1)[0].goods == cents(7));
  data.suppliers[0].free_from = cents(6);
  CHECK(remembered(1)[0].goods == cents(6));
  data.articles[0].offers[0].until.reset();  // the second stage orders on its own payday, or joins
  CHECK(remembered(1).size() == 1);
  data.articles[0].offers[0].until = data.stages[0].payday;
  data.articles[0].offers[0].from = data.stages[0].payday;
  CHECK(remembered(1).size() == 1);
}

TEST_CASE("closed stock that is there and closed stock that has come are one") {
  ProblemData data = always_on_offer();
  data.articles[0].keeping_days = 30;
  data.articles[0].on_hand = {{1000, {}, {}}, {1000, {}, data.stages[1].bench}};
  need(data, {2000});
  CHECK(spent(data, {1}) == 0);
  CHECK(spent(data, {0}) == 7);
}

TEST_CASE("stock that comes for the last stage is not there while others work before") {
  ProblemData data = always_on_offer();
  data.articles[0].on_hand = {{1000, {}, data.stages[2].bench}};
  need(data, {1000, 1000});
  CHECK(spent(data, {0, 1}) == 14);
  CHECK(spent(data, {0, 2}) == 7);
}

TEST_CASE("the rest of a pack keeps from the first bench day of the stage that opens it") {
  ProblemData data = always_on_offer();
  data.stages[0].last = data.stages[0].bench + 5;
  data.articles[0].keeping_days = 30;
  need(data, {500, 500});
  CHECK(spent(data, {0, 1}) == 7);
  data.articles[0].keeping_days = 29;
  CHECK(spent(data, {0, 1}) == 14);
}

TEST_CASE("a stage may be full to the minute") {
  ProblemData data = plain_stages(1);
  data.jobs = {plain_job(data, 1, 0, 600)};
  CHECK(spent(data, {0}) == 0);
  data.jobs[0].minutes = 601;
  CHECK(spent(data, {0}) == -1);
}

TEST_CASE("goods are bought in a way that leaves the money for a tool that is hired") {
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(0), {}}};
  const Date second = data.stages[1].payday;
  data.articles = {{1000, {}, {}, {{0, cents(45), 0, {}, second - 1}, {0, cents(50), 0, second, {}}}}};
  data.tools = {{{}, {}, cents(60)}};
  need(data, {0, 1000});
  data.jobs[0].tools = {0};
  CHECK(spent(data, {0, 1}) == 60 + 50);  // on the first payday 40 are left, less than the cheaper offer
  data.tools[0].hire = cents(55);
  CHECK(spent(data, {0, 1}) == 55 + 45);
}

TEST_CASE("a dearer offer that opens earlier is taken where it shares a delivery") {
  ProblemData data = plain_stages(2);
  data.suppliers = {{cents(10), {}}};
  data.articles = {{1000, {}, {}, {{0, cents(7), 0, data.stages[1].payday, {}}, {0, cents(8), 0, {}, {}}}},
                   {1000, {}, {}, {{0, cents(5), 0, {}, {}}}}};
  need(data, {1000, 1000});
  data.jobs[0].needs[0].article = 1;
  CHECK(spent(data, {0, 1}) == 5 + 8 + 10);
}

}  // namespace
}  // namespace fettlefund::budgets
