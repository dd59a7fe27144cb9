#include "lib/questions/least.hpp"

#include <doctest/doctest.h>

/// What jobs cost at the least, by hand.
namespace fettlefund::planning {
namespace {

using budgets::Money;

Money cents(std::int64_t amount) { return Money::of_minor(amount); }

/// One stage; a job that needs 3000 of an article in packs of 2000, at 30 or 20 the pack.
budgets::ProblemData packs_of_two() {
  budgets::ProblemData data;
  data.stages = {{budgets::Date{20000}, budgets::Date{20010}, cents(100), {}, 600}};
  data.suppliers = {{cents(0), {}}};
  data.articles = {{2000, {}, {}, {{0, cents(30), 0, {}, {}}, {0, cents(20), 0, {}, {}}}}};
  budgets::Job job;
  job.worth = {1};
  job.cost = cents(5);
  job.needs = {{0, 3000}};
  data.jobs = {job};
  return data;
}

TEST_CASE("the least that jobs cost is fees and whole packs at the lowest price, with the allowance") {
  budgets::ProblemData data = packs_of_two();
  CHECK(least_cost(budgets::Problem(data), {0}) == cents(5 + 40));
  data.allowance_bp = 1000;
  CHECK(least_cost(budgets::Problem(data), {0}) == cents(45 + 5));  // 4.5 rounded up
}

TEST_CASE("what is in stock costs nothing") {
  budgets::ProblemData data = packs_of_two();
  data.articles[0].on_hand = {{1000, {}, {}}};
  CHECK(least_cost(budgets::Problem(data), {0}) == cents(5 + 20));
  data.articles[0].on_hand = {{3000, {}, {}}};
  CHECK(least_cost(budgets::Problem(data), {0}) == cents(5));
}

}  // namespace
}  // namespace fettlefund::planning
