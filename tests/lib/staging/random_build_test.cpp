#include "tests/lib/staging/random_build.hpp"

#include <algorithm>
#include <cstdlib>
#include <string>
#include <variant>

#include "budgets/solve.hpp"
#include "lib/outcome/plan.hpp"
#include "lib/outcome/view.hpp"
#include "tests/budgets/support/random.hpp"
#include "tests/lib/staging/random_build_rules.hpp"
#include "tests/lib/staging/random_sessions.hpp"
#include "tests/lib/support/cases.hpp"

#include <doctest/doctest.h>

using namespace fettlefund;
using test::Decisions;
using test::Figures;
using test::Rulebook;

namespace {

/// How many of the builds are left out at the start.
int first_case() {
  const char* wanted = std::getenv("FETTLEFUND_FIRST_CASE");
  return wanted ? std::atoi(wanted) : 0;
}

/// The decisions of a schedule in the Build's own numbering.
Decisions decisions_of(const build::Build& build, const planning::Staging& staging,
                       const budgets::Schedule& schedule) {
  Decisions decisions{schedule.stage_of, std::vector<int>(build.articles.size(), -1)};
  for (std::size_t k = 0; k < staging.tool_of.size(); ++k) {
    decisions.bought[static_cast<std::size_t>(staging.tool_of[k])] = schedule.tool_bought[k];
  }
  return decisions;
}

Figures figures_of(const budgets::Plan& plan) { return {plan.value, plan.spent.minor(), plan.minutes}; }

std::string text(const std::optional<Figures>& figures) {
  if (!figures) return "no plan";
  return "value " + std::to_string(figures->value) + ", spent " + std::to_string(figures->spent) +
         ", minutes " + std::to_string(figures->minutes);
}

/// What was met on the way, so that the claim is not an empty one.
struct Met {
  int proven = 0, impossible = 0, due = 0, mates = 0, clashes = 0, tools_bought = 0, hired = 0, removals = 0;
};

void count(Met& met, const build::Build& build, const budgets::Plan& plan) {
  ++met.proven;
  for (const budgets::StageCost& stage : plan.stages) {
    met.hired += stage.hired.empty() ? 0 : 1;
    met.removals += stage.opened.empty() ? 0 : 1;
  }
  for (const int bought : plan.schedule.tool_bought) met.tools_bought += bought >= 0 ? 1 : 0;
  met.clashes += build.clashes.empty() ? 0 : 1;
  for (const build::Fitted& fitted : build.fitted) {
    met.due += fitted.since && !fitted.replaced_by.empty() ? 1 : 0;
    met.mates += fitted.mates.empty() ? 0 : 1;
  }
}

void compare_with_brute_force(const build::Build& build, Met& met) {
  const planning::Staging staging = planning::to_staging(build);
  const budgets::Problem problem(staging.problem);
  const budgets::Result result = budgets::solve(problem);
  const Rulebook rules(build);
  const std::optional<Figures> best = rules.best();
  if (std::holds_alternative<budgets::Impossible>(result)) {
    ++met.impossible;
    CHECK(text(best) == "no plan");
    return;
  }
  REQUIRE(std::holds_alternative<budgets::Proven>(result));
  const auto& proven = std::get<budgets::Proven>(result);
  CHECK(budgets::verify(problem, proven.plan).empty());
  CHECK(text(rules.judge(decisions_of(build, staging, proven.plan.schedule))) ==
        text(figures_of(proven.plan)));
  REQUIRE(best);
  CHECK(proven.plan.value == best->value);
  if (proven.ties_proven) CHECK(text(figures_of(proven.plan)) == text(best));
  const planning::Outcome outcome =
      planning::outcome_of({build, staging, problem, proven.plan}, true, proven.plan.value, proven.work);
  CHECK(outcome.spent.minor() == best->spent);
  count(met, build, proven.plan);
}

/// A schedule drawn at random: mostly possible places, tools bought where a job of that stage uses them.
budgets::Schedule random_schedule(const budgets::ProblemData& data, testing::Random& random) {
  const int stages = static_cast<int>(data.stages.size());
  budgets::Schedule schedule;
  for (std::size_t j = 0; j < data.jobs.size(); ++j) {
    schedule.stage_of.push_back(random.chance(35) ? -1 : random.below(stages));
  }
  schedule.tool_bought.assign(data.tools.size(), -1);
  for (std::size_t j = 0; j < data.jobs.size(); ++j) {
    if (schedule.stage_of[j] < 0) continue;
    for (const int k : data.jobs[j].tools) {
      int& bought = schedule.tool_bought[static_cast<std::size_t>(k)];
      const bool buys = !data.tools[static_cast<std::size_t>(k)].offers.empty() && random.chance(50);
      if (buys) bought = schedule.stage_of[j];
    }
  }
  return schedule;
}

using Make = build::Build (*)(std::uint64_t seed);

void compare_drawn(Make make, std::uint64_t past) {
  int possible = 0, refused = 0;
  const int wanted = test::cases(300);
  for (int seed = 1; seed <= wanted; ++seed) {
    const build::Build build = make(static_cast<std::uint64_t>(seed) + past);
    if (build::has_errors(planning::check(build))) continue;
    const planning::Staging staging = planning::to_staging(build);
    const budgets::Problem problem(staging.problem);
    const Rulebook rules(build);
    testing::Random random(static_cast<std::uint64_t>(seed));
    for (int draw = 0; draw < 20; ++draw) {
      CAPTURE(seed);
      CAPTURE(draw);
      const budgets::Schedule schedule = random_schedule(problem.data(), random);
      const auto costed = budgets::cost(problem, schedule);
      const auto* plan = std::get_if<budgets::Plan>(&costed);
      const std::optional<Figures> costs = plan ? std::optional(figures_of(*plan)) : std::nullopt;
      CHECK(text(rules.judge(decisions_of(build, staging, schedule))) == text(costs));
      ++(plan ? possible : refused);
    }
  }
  CHECK(possible > wanted);
  CHECK(refused > wanted);
}

void compare_planned(Make make) {
  Met met;
  int sound = 0;
  const int first = first_case(), last = test::cases(250), wanted = last - first;
  for (int seed = first + 1; seed <= last; ++seed) {
    CAPTURE(seed);
    const build::Build build = make(static_cast<std::uint64_t>(seed));
    if (build::has_errors(planning::check(build))) continue;
    ++sound;
    compare_with_brute_force(build, met);
  }
  MESSAGE(sound << " builds of " << wanted << ": " << met.proven << " planned, " << met.impossible
                << " impossible; with due parts " << met.due << ", mates " << met.mates << ", clashes "
                << met.clashes << ", tools bought " << met.tools_bought << ", stages with hire " << met.hired
                << ", stages with removals " << met.removals);
  if (wanted < 100) return;
  CHECK(sound > wanted / 2);
  CHECK(met.impossible > 0);
  for (const int some : {met.due, met.mates, met.clashes, met.tools_bought, met.hired, met.removals}) {
    CHECK(some > wanted / 50);
  }
}

}  // namespace

TEST_CASE("costing and the rules read plainly from the build judge the same decisions alike") {
  compare_drawn(test::random_build, 500'000);
}

TEST_CASE("costing and the plain rules judge the same decisions alike where bench time is sessions") {
  compare_drawn(test::random_build_by_sessions, 500'000);
}

TEST_CASE("the plan of a small build is the best of all by the rules read plainly from the build") {
  compare_planned(test::random_build);
}

TEST_CASE("the plan of a small build by sessions is the best of all by the plain rules") {
  compare_planned(test::random_build_by_sessions);
}
