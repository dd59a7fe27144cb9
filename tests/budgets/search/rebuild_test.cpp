#include "budgets/search/local/rebuild.hpp"

#include <algorithm>

#include "budgets/search/bound/linear_dual.hpp"
#include "tests/budgets/support/brute_force.hpp"
#include "tests/budgets/support/random_problem.hpp"
#include "tests/budgets/support/small.hpp"

#include <doctest/doctest.h>

namespace fettlefund::budgets::search {
namespace {

using testing::brute_force;
using testing::cents;
using testing::random_cases;
using testing::random_problem;

/// One answer of `fits` for each unit left out and each stage.
std::vector<char> room_of(RelaxedPlan& plan, const Relaxed& relaxed) {
  std::vector<char> room;
  for (int u = 0; u < relaxed.units; ++u) {
    for (int t = 0; t < relaxed.stages; ++t) room.push_back(!plan.has(u) && plan.fits(u, t));
  }
  return room;
}

void check_same(RelaxedPlan& plan, const std::vector<int>& stages, const Relaxed& relaxed) {
  RelaxedPlan fresh(relaxed);
  for (int u = 0; u < relaxed.units; ++u) {
    if (stages[u] >= 0) fresh.put(u, stages[u]);
  }
  CHECK(plan.stages() == stages);
  CHECK(plan.value() == fresh.value());
  CHECK(room_of(plan, relaxed) == room_of(fresh, relaxed));
}

/// Puts in whatever has room, takes out what is there.
void change(RelaxedPlan& plan, const Relaxed& relaxed, SplitMix64& random) {
  const int unit = random.below(relaxed.units);
  const int stage = random.below(relaxed.stages);
  if (plan.has(unit)) {
    plan.take(unit);
  } else if (plan.fits(unit, stage)) {
    plan.put(unit, stage);
  }
}

std::optional<Plan> costed_plan(const Model& model, const std::vector<int>& stages) {
  Schedule schedule;
  schedule.stage_of.assign(model.data().jobs.size(), -1);
  schedule.tool_bought.assign(model.data().tools.size(), -1);
  for (int u = 0; u < model.unit_count(); ++u) {
    for (int j : model.units()[u].jobs) schedule.stage_of[j] = stages[u];
  }
  const auto costed = cost(model.problem(), schedule);
  const Plan* plan = std::get_if<Plan>(&costed);
  return plan != nullptr ? std::optional<Plan>(*plan) : std::nullopt;
}

std::optional<std::vector<int>> rebuilt(const Relaxed& relaxed, std::int64_t steps) {
  Meter meter(4 * steps, nullptr);
  LinearDual dual(relaxed);
  dual.run(-1e18, steps, meter);
  const std::vector<int> nothing(relaxed.units, -1);
  return Rebuilder(relaxed, dual.rates(), 1).run(nothing, steps, meter);
}

/// A job of no worth that two others require; alone neither of these is worth its money.
ProblemData shared_preparation() {
  ProblemData data;
  const Date day{20000};
  data.stages.push_back({day, day, cents(100), {}, 0});
  data.stages.push_back({day + 1, day + 1, cents(0), {}, 0});
  const auto job = [&](std::int64_t worth, int cost, std::vector<int> after) {
    Job made;
    made.worth = {2 * worth, worth};
    made.cost = cents(cost);
    made.after = std::move(after);
    data.jobs.push_back(made);
  };
  job(0, 60, {});
  job(9, 20, {0});
  job(9, 20, {0});
  job(10, 70, {});
  job(0, 5, {});
  return data;
}

TEST_CASE("a plan changed unit by unit and back again is the plan put together anew") {
  for (int seed = 0; seed < random_cases(200); ++seed) {
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 7, 4));
    const Model model(problem);
    const Relaxed relaxed(model);
    if (relaxed.units == 0) continue;
    SplitMix64 random(static_cast<std::uint64_t>(seed));
    RelaxedPlan plan(relaxed);
    for (int i = 0; i < 20; ++i) change(plan, relaxed, random);
    check_same(plan, plan.stages(), relaxed);
    const std::vector<int> kept = plan.stages();
    plan.keep();
    for (int i = 0; i < 20; ++i) change(plan, relaxed, random);
    plan.undo_to(0);
    check_same(plan, kept, relaxed);
  }
}

TEST_CASE("jobs of no worth are done only for those that require them") {
  const Problem problem(shared_preparation());
  const Model model(problem);
  const Relaxed relaxed(model);
  REQUIRE(relaxed.exact);
  const auto stages = rebuilt(relaxed, 200'000);
  REQUIRE(stages);
  const auto plan = costed_plan(model, *stages);
  REQUIRE(plan);
  CHECK(plan->value == 36);
  CHECK(plan->schedule.stage_of == std::vector{0, 0, 0, -1, -1});
}

TEST_CASE("plans rebuilt keep all rules where costs are exact, and nearly always are the best") {
  int exact = 0, best = 0;
  for (int seed = 0; seed < std::max(800, random_cases(800)); ++seed) {  // few of them are exact
    CAPTURE(seed);
    const Problem problem(random_problem(seed, 7, 4));
    const Model model(problem);
    const Relaxed relaxed(model);
    if (!relaxed.exact || relaxed.tools() > 0 || model.must_is_hopeless()) continue;
    const auto truth = brute_force(problem).best;
    const auto stages = rebuilt(relaxed, 300'000);
    if (!truth || !stages) continue;
    ++exact;
    const auto plan = costed_plan(model, *stages);
    if (!plan) continue;
    CHECK(plan->value <= truth->value);
    best += plan->value == truth->value ? 1 : 0;
  }
  MESSAGE(best << " of " << exact);
  CHECK(exact >= 20);
  CHECK(best * 10 >= exact * 9);
}

}  // namespace
}  // namespace fettlefund::budgets::search
