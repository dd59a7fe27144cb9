#include "tests/budgets/support/all_plans.hpp"

#include <algorithm>

#include "budgets/costing/costing.hpp"

namespace fettlefund::testing {
namespace {

using namespace budgets;

constexpr std::int64_t plenty = 1'000'000'000;

/// The schedule at the least cash it can be bought with, and at every amount from which on it costs less:
/// from plenty downwards.
void add_plans(const ProblemData& data, const Schedule& schedule, std::vector<PricedPlan>& plans) {
  ProblemData now = data;
  for (std::int64_t cash = plenty; cash >= 0;) {
    now.opening = data.opening + Money::of_minor(cash);
    const auto costed = cost(Problem(now), schedule);
    const auto* plan = std::get_if<Plan>(&costed);
    if (plan == nullptr) return;
    std::int64_t extra = 0;
    for (std::size_t t = 0; t < plan->stages.size(); ++t) {
      extra = std::max(extra, (data.stages[t].floor - plan->stages[t].cash_after).minor() + cash);
    }
    plans.push_back({*plan, extra});
    cash = extra - 1;
  }
}

}  // namespace

std::vector<PricedPlan> all_plans(const Problem& problem) {
  const ProblemData& data = problem.data();
  const std::size_t jobs = data.jobs.size(), all = jobs + data.tools.size();
  std::vector<int> choice(all, -1);
  std::vector<PricedPlan> plans;
  ProblemData with_plenty = data;
  with_plenty.opening += Money::of_minor(plenty);
  const Problem rich(std::move(with_plenty));
  const Coster coster(rich);
  for (;;) {
    const Schedule schedule{{choice.begin(), choice.begin() + static_cast<std::ptrdiff_t>(jobs)},
                            {choice.begin() + static_cast<std::ptrdiff_t>(jobs), choice.end()}};
    if (coster.plan(schedule)) add_plans(data, schedule, plans);
    std::size_t at = 0;
    while (at < all && ++choice[at] == problem.stage_count()) choice[at++] = -1;
    if (at == all) return plans;
  }
}

}  // namespace fettlefund::testing
