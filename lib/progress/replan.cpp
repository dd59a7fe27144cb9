#include "lib/progress/replan.hpp"

#include <algorithm>

namespace fettlefund::planning {
namespace {

/// Agreed jobs that are closed move out of the plan as well.
void add_closed(Outcome& outcome, const Standing& standing) {
  for (const LeftOut& closed : standing.closed) {
    for (const build::Agreed& agreed : standing.build->agreement.jobs) {
      if (agreed.job != closed.job) continue;
      outcome.moves.push_back({closed.job, closed.name, agreed.bench, -1, {}, {closed.reason}});
    }
  }
  std::stable_sort(outcome.moves.begin(), outcome.moves.end(),
                   [](const Move& a, const Move& b) { return a.agreed_bench < b.agreed_bench; });
  outcome.left_out.insert(outcome.left_out.begin(), standing.closed.begin(), standing.closed.end());
}

}  // namespace

Planning replan(const Standing& standing, const budgets::SolveOptions& options) {
  Planning planning = plan(*standing.build, options);
  if (auto* outcome = std::get_if<Outcome>(&planning)) {
    outcome->so_far = standing.notes;
    add_closed(*outcome, standing);
  }
  return planning;
}

}  // namespace fettlefund::planning
