#include "budgets/costing/basket_ways.hpp"

#include "budgets/costing/costing.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

/// Orders that are joined early, late or not at all, by hand. Job j needs one pack of article j.
namespace fettlefund::budgets {
namespace {

using namespace testing;

ProblemData needs_of_each(int stages, std::vector<std::vector<Offer>> offers) {
  ProblemData data = plain_stages(stages);
  for (std::size_t a = 0; a < offers.size(); ++a) {
    data.articles.push_back({1000, {}, {}, offers[a]});
    data.jobs.push_back(plain_job(data, 1));
    data.jobs.back().needs = {{static_cast<int>(a), 1000}};
  }
  return data;
}

Plan bought(const ProblemData& data, const std::vector<int>& stage_of) {
  const Problem problem(data);
  const auto costed = cost(problem, {stage_of, {}});
  REQUIRE(std::holds_alternative<Plan>(costed));
  const Plan plan = std::get<Plan>(costed);
  CHECK(verify(problem, plan).empty());
  return plan;
}

TEST_CASE("goods are ordered early to share the delivery of goods for a stage to come") {
  // The second article takes 65 days: only the first payday brings it for the third stage.
  ProblemData data = needs_of_each(3, {{{0, cents(5), 0, {}, {}}}, {{0, cents(7), 65, {}, {}}}});
  data.suppliers = {{cents(10), {}}};
  const Plan plan = bought(data, {1, 2});
  CHECK(plan.spent == cents(5 + 7 + 10));
  CHECK(plan.orders.size() == 1);
}

TEST_CASE("nothing is ordered early only to round the allowance up once") {
  ProblemData data = needs_of_each(2, {{{0, cents(7), 0, {}, {}}}});
  data.suppliers = {{cents(5), {}}};
  data.allowance_bp = 1;
  data.jobs.push_back(plain_job(data, 1, 10));
  const Plan plan = bought(data, {1, 0});
  REQUIRE(plan.orders.size() == 1);
  CHECK(plan.orders[0].stage == 1);
  CHECK(plan.spent == cents(10 + 1 + 12 + 1));
}

TEST_CASE("an order that cannot wait is not taken for one that could") {
  // Two offers at one price: the first can wait for the second payday, the other, of 35 days, cannot. Ordered
  // with the other the allowance is rounded up once.
  ProblemData data = needs_of_each(2, {{{0, cents(7), 0, {}, {}}, {0, cents(7), 35, {}, {}}}});
  data.suppliers = {{cents(5), {}}};
  data.allowance_bp = 1;
  data.jobs.push_back(plain_job(data, 1, 10));
  const Plan plan = bought(data, {1, 0});
  CHECK(plan.orders[0].stage == 0);
  CHECK(plan.spent == cents(10 + 12 + 1));
}

TEST_CASE("an order that later goods bring to its free-from amount beats a cheaper way without it") {
  ProblemData data = needs_of_each(2, {{{0, cents(12), 0, {}, {}}, {1, cents(9), 0, {}, {}}},
                                       {{0, cents(8), 0, {}, Date{20000}}, {1, cents(20), 0, {}, {}}}});
  data.suppliers = {{cents(10), cents(20)}, {cents(0), {}}};
  const Plan plan = bought(data, {0, 1});  // 9 + 8 + 10 = 27 for the way that is cheaper at first
  CHECK(plan.spent == cents(12 + 8));
}

TEST_CASE("an offer can be ordered on its last day") {
  ProblemData data = needs_of_each(2, {{{0, cents(7), 0, {}, Date{20030}}}});
  data.suppliers = {{cents(5), {}}};
  CHECK(bought(data, {1}).orders[0].stage == 1);
  data.articles[0].offers[0].until = Date{20029};
  CHECK(bought(data, {1}).orders[0].stage == 0);
}

}  // namespace
}  // namespace fettlefund::budgets
