#include "tests/budgets/support/all_plans.hpp"

#include <algorithm>

#include "budgets/costing/costing.hpp"

namespace fettlefund::testing {
namespace {

using namespace budgets;

constexpr std::int64_t plenty = 1'000'000'000;

Problem with_plenty(ProblemData data) {
  data.opening += Money::of_minor(plenty);
  return Problem(std::move(data));
}

std::int64_t extra_of(const ProblemData& rich, const Plan& plan) {
  std::int64_t extra = 0;
  for (std::size_t t = 0; t < plan.stages.size(); ++t) {
    extra = std::max(extra, (rich.stages[t].floor - plan.stages[t].cash_after).minor() + plenty);
  }
  return extra;
}

}  // namespace

std::vector<PricedPlan> all_plans(const Problem& problem) {
  const Problem rich = with_plenty(problem.data());
  const Coster coster(rich);
  const std::size_t jobs = rich.data().jobs.size(), all = jobs + rich.data().tools.size();
  std::vector<int> choice(all, -1);
  std::vector<PricedPlan> plans;
  for (;;) {
    const auto costed = coster.cost({{choice.begin(), choice.begin() + static_cast<std::ptrdiff_t>(jobs)},
                                     {choice.begin() + static_cast<std::ptrdiff_t>(jobs), choice.end()}});
    if (const auto* plan = std::get_if<Plan>(&costed)) plans.push_back({*plan, extra_of(rich.data(), *plan)});
    std::size_t at = 0;
    while (at < all && ++choice[at] == problem.stage_count()) choice[at++] = -1;
    if (at == all) return plans;
  }
}

}  // namespace fettlefund::testing
