#include <algorithm>
#include <limits>

#include "budgets/search/layers/search.hpp"
#include "budgets/solve.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

// Rules by which a bound spares what later stages need not pay: without one of them a best plan is cut away.

namespace fettlefund::budgets {
namespace {

using testing::cents;

/// Jobs that fill a stage each, a month apart, and no more cash than what is there at first.
ProblemData one_a_stage(int jobs, std::int64_t cash) {
  ProblemData data = testing::plain_stages(jobs);
  for (Stage& stage : data.stages) stage.cash_in = Money();
  data.opening = cents(cash);
  for (int j = 0; j < jobs; ++j) data.jobs.push_back(testing::plain_job(data, 10 - j, 0, 600));
  return data;
}

Offer offer(int supplier, int price) { return {supplier, cents(price), 0, {}, {}}; }

/// Gives the next job that has none an article with these offers.
void need(ProblemData& data, std::vector<Offer> offers) {
  data.articles.push_back({1000, {}, {}, std::move(offers)});
  const int article = static_cast<int>(data.articles.size()) - 1;
  data.jobs[static_cast<std::size_t>(article)].needs = {{article, 1000}};
}

/// The layers find the best plan without a descent before them, and their bound allows for it.
void check_layers(const Problem& problem, const Plan& truth) {
  const search::Model model(problem);
  const search::Relaxed relaxed(model);
  search::Bounder bounder(relaxed, 1000);
  search::Meter meter(1'000'000'000, nullptr);
  search::Search layers(model, relaxed, bounder, meter);
  const search::Outcome outcome = layers.run(1000, std::numeric_limits<std::int64_t>::max() / 4, false);
  CHECK(outcome.bound >= truth.value);
  REQUIRE(layers.best());
  CHECK(layers.best()->rank.value == truth.value);
}

/// All jobs are done in the proven plan, and no bound on the way is below it.
void check_all_done(const ProblemData& data) {
  const Problem problem(data);
  std::int64_t lowest = std::numeric_limits<std::int64_t>::max();
  SolveOptions options;
  options.on_progress = [&](const Progress& progress) { lowest = std::min(lowest, progress.bound); };
  const Result result = solve(problem, options);
  const auto* proven = std::get_if<Proven>(&result);
  REQUIRE(proven != nullptr);
  const auto truth = testing::brute_force(problem).best;
  REQUIRE(truth.has_value());
  CHECK(compare(proven->plan, *truth) == 0);
  CHECK(lowest >= truth->value);
  CHECK(std::count(truth->schedule.stage_of.begin(), truth->schedule.stage_of.end(), -1) == 0);
  CHECK(proven->ties_proven);
  check_layers(problem, *truth);
}

TEST_CASE("hire in many stages is limited by the price") {
  ProblemData data = one_a_stage(3, 15);
  data.suppliers = {{}};
  data.tools = {{{}, {offer(0, 15)}, cents(10)}};
  for (Job& job : data.jobs) job.tools = {0};
  check_all_done(data);
  const Problem problem(data);
  const search::Model model(problem);
  const search::Relaxed relaxed(model);
  std::int64_t sum = 0;
  for (int u = 0; u < relaxed.units; ++u) sum += relaxed.cost_at(u, u);
  for (const search::Charge& charge : relaxed.charges) sum += 3 * charge.cost;
  for (const std::int64_t once : relaxed.tool_cost) sum += once;
  CHECK(sum * relaxed.unit_cost <= 15);
}

TEST_CASE("a delivery that was paid is not paid again by a later stage that can join the order") {
  ProblemData data = one_a_stage(2, 26);
  data.suppliers = {{cents(10), {}}, {}};
  need(data, {offer(0, 8), offer(1, 12)});
  need(data, {offer(0, 8)});
  check_all_done(data);
}

TEST_CASE("a delivery comes back where later goods bring the order to its free-from amount") {
  ProblemData data = one_a_stage(2, 20);
  data.suppliers = {{cents(5), cents(20)}};
  need(data, {offer(0, 10)});
  need(data, {offer(0, 10)});
  check_all_done(data);
}

TEST_CASE("an order may overstep what is there until its delivery comes back") {
  // Stage 0 pays 10 + 5 of 12; the goods of stage 1, ordered with it, cost 2 and make it free.
  ProblemData data = one_a_stage(2, 12);
  data.suppliers = {{cents(5), cents(12)}};
  need(data, {offer(0, 10)});
  need(data, {offer(0, 2)});
  check_all_done(data);
}

TEST_CASE("a tool bought where another would have done is not bought again") {
  ProblemData data = one_a_stage(2, 20);
  data.suppliers = {{}};
  data.tools = {{{}, {offer(0, 20)}, {}}, {{}, {offer(0, 15)}, {}}};
  data.jobs[0].any_tools = {{0, 1}};
  data.jobs[1].tools = {0};
  check_all_done(data);
}

TEST_CASE("the rest of a pack serves a removal each time that it is opened") {
  ProblemData data = one_a_stage(3, 30);
  data.suppliers = {{}};
  data.articles = {{3000, {}, {}, {offer(0, 30)}}};
  data.removals.resize(1);
  data.removals[0].one_use = {{0, 1000}};
  for (Job& job : data.jobs) job.removals = {0};
  check_all_done(data);
}

TEST_CASE("goods for a removal of several stages can reach the free-from amount together") {
  ProblemData data = one_a_stage(2, 20);
  data.suppliers = {{cents(5), cents(20)}};
  data.articles = {{1000, {}, {}, {offer(0, 10)}}};
  data.removals.resize(1);
  data.removals[0].one_use = {{0, 1000}};
  for (Job& job : data.jobs) job.removals = {0};
  check_all_done(data);
}

TEST_CASE("a job and a removal may share a pack") {
  ProblemData data = one_a_stage(1, 10);
  data.suppliers = {{}};
  data.articles = {{1000, {}, {}, {offer(0, 10)}}};
  data.jobs[0].needs = {{0, 400}};
  data.removals.resize(1);
  data.removals[0].one_use = {{0, 400}};
  data.jobs[0].removals = {0};
  check_all_done(data);
}

TEST_CASE("stock that does for one of two jobs leaves the other to buy") {
  ProblemData data = one_a_stage(2, 0);
  data.suppliers = {{}};
  data.articles = {{1000, {}, {{400, {}, {}}}, {offer(0, 10)}}};
  for (Job& job : data.jobs) job.needs = {{0, 400}};
  const Problem problem(data);
  const auto truth = testing::brute_force(problem).best;
  REQUIRE(truth.has_value());
  CHECK(truth->value > 0);
  check_layers(problem, *truth);
}

TEST_CASE("stock on its last day costs nothing") {
  ProblemData data = one_a_stage(1, 0);
  data.suppliers = {{}};
  data.articles = {{1000, {}, {{1000, data.stages[0].bench, {}}}, {offer(0, 10)}}};
  data.jobs[0].needs = {{0, 1000}};
  check_all_done(data);
}

TEST_CASE("closed packs that go off once opened are kept whole") {
  ProblemData data = one_a_stage(3, 0);
  data.suppliers = {{}};
  data.articles = {{1000, 5, {{3000, {}, {}}}, {offer(0, 10)}}};
  for (Job& job : data.jobs) job.needs = {{0, 400}};
  check_all_done(data);
}

TEST_CASE("a tool that is free is bought where it brings an order to free delivery") {
  ProblemData data = one_a_stage(1, 100);
  data.suppliers = {{cents(50), cents(100)}};
  need(data, {offer(0, 90)});
  data.tools = {{{1}, {offer(0, 10)}, {}}};
  data.jobs[0].tools = {0};
  check_all_done(data);
}

}  // namespace
}  // namespace fettlefund::budgets
