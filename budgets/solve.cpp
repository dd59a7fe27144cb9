#include "budgets/solve.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <stdexcept>
#include <utility>

#include "budgets/search/search.hpp"

namespace fettlefund::budgets {
namespace {

using search::Bounder;
using search::Meter;
using search::Model;
using search::Relaxed;
using search::Search;

struct Budget {
  std::int64_t steps;
  std::int32_t patterns;
};

Budget budget_of(Effort effort) {
  switch (effort) {
    case Effort::quick:
      return {300'000'000, 200'000};
    case Effort::normal:
      return {4'000'000'000, 1'500'000};
    default:
      return {40'000'000'000, 1'500'000};
  }
}

Plan checked_plan(const Problem& problem, const search::Found& found) {
  auto costed = cost(problem, found.schedule);
  const Plan* plan = std::get_if<Plan>(&costed);
  if (plan == nullptr) {
    throw std::logic_error("solve: " + std::get<1>(costed).front().what);
  }
  const bool same = plan->value == found.rank.value && plan->spent.minor() == found.rank.spent &&
                    plan->minutes == found.rank.minutes;
  if (!same) throw std::logic_error("solve: the search and cost disagree about a plan");
  const auto violations = verify(problem, *plan);
  if (!violations.empty()) throw std::logic_error("solve: " + violations.front().what);
  return *plan;
}

}  // namespace

std::optional<Effort> find_effort(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, Effort>, 3> names{
      {{"quick", Effort::quick}, {"normal", Effort::normal}, {"thorough", Effort::thorough}}};
  for (const auto& [word, effort] : names) {
    if (word == name) return effort;
  }
  return std::nullopt;
}

Result solve(const Problem& problem, const SolveOptions& options) {
  const Budget budget = budget_of(options.effort);
  Meter meter(budget.steps, options.stop);
  const Model model(problem);
  const Relaxed relaxed(model);
  Bounder bounder(relaxed, budget.patterns);
  Search search(model, relaxed, bounder, meter);
  constexpr std::int64_t any_money = std::numeric_limits<std::int64_t>::max() / 4;
  std::int64_t bound = std::numeric_limits<std::int64_t>::max();
  bool proven = false;
  bool ties = false;
  for (std::size_t width = 10; !meter.out() && !proven; width *= 10) {
    const auto outcome = search.run(width, any_money, false);
    bound = std::min(bound, outcome.bound);
    proven = outcome.exhausted || (search.best() && search.best()->rank.value >= bound);
  }
  if (proven && search.best()) {
    bound = search.best()->rank.value;
    for (std::size_t width = 100; !meter.out() && !ties; width *= 10) {
      ties = search.run(width, any_money, true).exhausted;
    }
  }
  const Work work{meter.steps(), search.states()};
  if (!search.best()) {
    if (proven) return Impossible{{}, false, false, std::nullopt, -1, work};
    return Stopped{std::nullopt, bound, work};
  }
  Plan plan = checked_plan(problem, *search.best());
  if (proven && ties) return Proven{std::move(plan), work};
  return Stopped{std::move(plan), bound, work};
}

}  // namespace fettlefund::budgets
