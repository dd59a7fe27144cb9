#include <algorithm>

#include "budgets/search/bound/bounder.hpp"
#include "budgets/search/bound/linear_dual.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/delivered_parts.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::brute_force;
using testing::cents;
using testing::delivered_parts;
using testing::plain_job;
using testing::plain_stages;
using testing::Random;
using testing::random_cases;

/// Nothing done and nothing spent.
Root beginning(const Relaxed& relaxed) {
  return {0, std::vector<char>(relaxed.units, 0), std::vector<char>(relaxed.tools(), 0), 0, 0};
}

TEST_CASE("with the multipliers of the linear relaxation the bound by paths is no weaker than its own") {
  int finer = 0;
  for (int seed = 0; seed < random_cases(40); ++seed) {
    for (const std::int32_t list_limit : {0, 100'000}) {
      CAPTURE(seed);
      CAPTURE(list_limit);
      const Problem problem(delivered_parts(seed));
      const Model model(problem);
      const Relaxed relaxed(model);
      REQUIRE_FALSE(relaxed.ordering.empty());
      Bounder bounder(relaxed, list_limit);
      Meter meter(std::int64_t{1} << 40, nullptr);
      LinearDual dual(relaxed);
      const double linear = dual.run(0.0, 5'000'000, meter);
      std::vector<double> values = bounder.linear_start(0.0, 5'000'000, meter);
      bounder.load(values, 0, 0, meter);
      const double by_paths = bounder.scale().to_worth(bounder.bound(beginning(relaxed)));
      CHECK(by_paths <= linear + 1);
      finer += by_paths < linear - 1 ? 1 : 0;
    }
  }
  if (random_cases(40) >= 40) CHECK(finer > 0);
}

TEST_CASE("with any price of money what is paid to the last minor unit leaves a plan its value") {
  // One job that takes all the cash: goods, delivery, a tool and a removal, none of them whole levels.
  ProblemData data = plain_stages(2);
  data.suppliers.push_back({cents(6543), {}});
  data.articles.push_back({1000, {}, {}, {{0, cents(78'901), 0, {}, {}}}});
  data.removals.push_back({cents(3219), 0, {}, {}, {}});
  data.tools.push_back({});
  data.tools[0].offers.push_back({0, cents(12'347), 0, {}, {}});
  data.jobs.push_back(plain_job(data, 500, 5532, 30));
  data.jobs[0].latest = 0;
  data.jobs[0].needs = {{0, 1000}};
  data.jobs[0].removals = {0};
  data.jobs[0].tools = {0};
  for (Stage& stage : data.stages) stage.cash_in = {};
  data.stages[1].minutes = 20;  // where time never binds no sets are listed
  data.opening = cents(6543 + 78'901 + 3219 + 12'347 + 5532);
  const Problem problem(data);
  const auto truth = brute_force(problem);
  REQUIRE(truth.best);
  REQUIRE(truth.best->value == 1000);
  const Model model(problem);
  const Relaxed relaxed(model);
  REQUIRE(relaxed.ordering.joins.size() >= 1);
  for (const std::int32_t list_limit : {0, 1000}) {
    Bounder bounder(relaxed, list_limit);
    REQUIRE((bounder.completion().pattern_count() > 0) == (list_limit > 0));
    const Multipliers layout(relaxed, bounder.completion().shared_charges());
    Meter meter(std::int64_t{1} << 40, nullptr);
    for (int tenths = 1; tenths < 8; ++tenths) {
      CAPTURE(list_limit);
      CAPTURE(tenths);
      // Of a minor unit; the order and the tool are paid for twice, so that a path has them.
      const double price = 100.0 * tenths / static_cast<double>(data.opening.minor());
      std::vector<double> values(bounder.start().size(), 0.0);
      values[layout.money(0)] = price * layout.money_unit();
      for (std::size_t j = 0; j < relaxed.ordering.joins.size(); ++j)
        values[layout.join(static_cast<int>(j), 0)] = 2 * price * 6543;
      for (std::size_t n = 0; n < layout.needs().size(); ++n)
        values[layout.need(static_cast<int>(n), 0)] = 2 * price * 12'347;
      bounder.load(values, 0, 0, meter);
      const std::int64_t bound = bounder.bound(beginning(relaxed));
      CHECK(bound >= bounder.scale().up(1000));
      CHECK(bounder.scale().to_worth(bound) < 1000.1);
    }
  }
}

/// The bound of the empty beginning, and its slope.
struct Sloped {
  double bound = 0;
  std::vector<double> slope;
};

Sloped sloped(const Relaxed& relaxed, const Multipliers& layout, const Scale& scale, Completion& completion,
              const std::vector<double>& values) {
  const Prices prices = make_prices(relaxed, layout, scale, values, completion.prices_minutes(), 0);
  completion.fill(prices, 0, Sweep::whole, true);
  const RelaxedPath path = completion.trace(prices, 0, 0);
  return {scale.to_worth(prices.constant + completion.at(0, 0)),
          slope(relaxed, layout, beginning(relaxed), path, prices, completion.prices_minutes())};
}

TEST_CASE("nowhere is the bound below what its slope at another place says") {
  for (int seed = 0; seed < random_cases(40); ++seed) {
    for (const std::int32_t list_limit : {0, 100'000}) {
      CAPTURE(seed);
      CAPTURE(list_limit);
      Random random(seed);
      const Problem problem(delivered_parts(seed));
      const Model model(problem);
      const Relaxed relaxed(model);
      const Scale scale(relaxed);
      Completion completion(relaxed, scale, list_limit);
      const Multipliers layout(relaxed, completion.shared_charges());
      Bounder bounder(relaxed, list_limit);
      Meter meter(std::int64_t{1} << 40, nullptr);
      // Beside the best multipliers, where the bound is smoother.
      std::vector<double> here = bounder.linear_start(0.0, 5'000'000, meter);
      for (double& x : here) x *= random.between(70, 130) / 100.0;
      const Sloped at = sloped(relaxed, layout, scale, completion, here);
      for (int trial = 0; trial < 12; ++trial) {
        std::vector<double> there = here;
        for (int p = 0; p < relaxed.stages; ++p) {
          if (random.chance(50)) there[layout.money(p)] *= random.between(95, 105) / 100.0;
        }
        double line = at.bound;
        for (std::size_t i = 0; i < here.size(); ++i) line += at.slope[i] * (there[i] - here[i]);
        CHECK(sloped(relaxed, layout, scale, completion, there).bound >= line - 0.05);
      }
    }
  }
}

}  // namespace
}  // namespace fettlefund::budgets::search
