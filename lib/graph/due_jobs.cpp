#include "lib/graph/due_jobs.hpp"

#include <algorithm>

namespace fettlefund::graph {
namespace {

/// What a job comes after or is done with is due with it. Whether that changed anything.
bool draw_forward(const build::Build& build, const std::vector<int>& jobs, const Arrows& after,
                  std::vector<int>& due) {
  bool changed = false;
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    for (std::size_t other = 0; other < jobs.size(); ++other) {
      if (due[other] <= due[j]) continue;
      const std::vector<int>& first = after[jobs[j]];
      const bool before = std::find(first.begin(), first.end(), jobs[other]) != first.end();
      if (!before && !together(build, jobs[j], jobs[other])) continue;
      due[other] = due[j];
      changed = true;
    }
  }
  return changed;
}

}  // namespace

bool together(const build::Build& build, int a, int b) {
  const auto names = [&](int from, int to) {
    const auto& ids = build.jobs[static_cast<std::size_t>(from)].together_with;
    return std::find(ids.begin(), ids.end(), build.jobs[static_cast<std::size_t>(to)].id) != ids.end();
  };
  return names(a, b) || names(b, a);
}

std::vector<int> due_sessions(const build::Build& build, const std::vector<int>& jobs, const Arrows& after,
                              const std::vector<build::Date>& days) {
  std::vector<int> due;
  for (const int job : jobs) {
    const auto& by = build.jobs[static_cast<std::size_t>(job)].by;
    const auto later = by ? std::upper_bound(days.begin(), days.end(), *by) : days.end();
    due.push_back(static_cast<int>(later - days.begin()));
  }
  while (draw_forward(build, jobs, after, due)) {
  }
  return due;
}

}  // namespace fettlefund::graph
