#include <algorithm>
#include <cstdint>
#include <vector>

#include "budgets/search/layers/search.hpp"
#include "tests/budgets/support/against_enumeration.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets {
namespace {

using testing::brute_force;
using testing::cents;
using testing::check_solve;
using testing::random_cases;
using testing::random_problem;

/// A random problem with an allowance of 3 to 30 %.
ProblemData allowing_problem(int seed) {
  ProblemData data = random_problem(seed, 7, 4);
  data.allowance_bp = 300 + static_cast<std::int64_t>(seed) * 7919 % 2700;
  return data;
}

/// The least cash above the floor that the best plan leaves on any payday.
Money to_spare(const ProblemData& data, const Plan& best) {
  Money least = best.stages.front().cash_after - data.stages.front().floor;
  for (std::size_t t = 1; t < data.stages.size(); ++t)
    least = std::min(least, best.stages[t].cash_after - data.stages[t].floor);
  return least;
}

TEST_CASE("what an allowance rounds up on a payday may be used up by goods added later") {
  for (const int seed : {3'063'671, 3'067'706, 3'089'641}) {
    CAPTURE(seed);
    check_solve(Problem(random_problem(seed, 7, 4)));
  }
}

constexpr int orders = 6;

/// Stages that each order for 3 + 1 delivery, and a last one whose job needs goods for 5 of each of those
/// orders. With 10 % each payday pays 5, with the goods of the last stage 10.
ProblemData orders_and_more(std::int64_t cash) {
  ProblemData data = testing::plain_stages(orders + 1);
  for (Stage& stage : data.stages) stage.cash_in = {};
  data.opening = cents(cash);
  data.allowance_bp = 1000;
  data.jobs.assign(orders + 1, testing::plain_job(data, 1));
  for (int t = 0; t < orders; ++t) {
    data.suppliers.push_back({cents(1), {}});
    Offer offer;
    offer.supplier = t;
    offer.from = offer.until = data.stages[t].payday;
    for (const int price : {3, 5}) {
      offer.price = cents(price);
      data.articles.emplace_back().offers = {offer};
    }
    data.jobs[t].needs = {{2 * t, 1}};
    data.jobs[orders].needs.push_back({2 * t + 1, 1});
  }
  for (int j = 0; j <= orders; ++j) data.jobs[j].earliest = data.jobs[j].latest = j;
  return data;
}

/// By how much the search betters the plan without the last job, which it is told.
std::int64_t bettered_by(std::int64_t cash) {
  const Problem problem(orders_and_more(cash));
  const search::Model model(problem);
  const search::Relaxed relaxed(model);
  search::Meter meter(1'000'000'000, nullptr);
  search::Bounder bounder(relaxed, 100'000);
  search::Search search(model, relaxed, bounder, meter);
  Schedule known{{}, {}};
  std::int64_t value = 0;
  for (int j = 0; j < orders; ++j) known.stage_of.push_back(j), value += problem.data().jobs[j].worth[j];
  known.stage_of.push_back(-1);
  search.offer({known, {value, 5 * orders, 0}});
  REQUIRE(search.run(1000, std::int64_t{1} << 60, false).exhausted);
  return search.best()->rank.value - value;
}

TEST_CASE("goods that join orders use up what the allowance of each was rounded by") {
  CHECK(bettered_by(10 * orders) == 1);
  CHECK(bettered_by(10 * orders - 1) == 0);
}

TEST_CASE("with an allowance the cash that the best plan needs is enough and a cent less is not") {
  std::vector<int> seeds{5'000'262};
  for (int seed = 0; seed < random_cases(150); ++seed) seeds.push_back(5'100'000 + seed);
  for (const int seed : seeds) {
    CAPTURE(seed);
    ProblemData data = allowing_problem(seed);
    const auto best = brute_force(Problem(data)).best;
    if (!best) continue;
    data.opening -= to_spare(data, *best);
    if (seed % 2 != 0) data.opening -= Money::of_minor(1);
    check_solve(Problem(data));
  }
}

}  // namespace
}  // namespace fettlefund::budgets
