#include "lib/staging/choices.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include "lib/staging/ids.hpp"

namespace fettlefund::planning {

Window window_of(const build::Job& job, const std::vector<budgets::Stage>& stages) {
  Window window{0, static_cast<int>(stages.size()) - 1};
  if (job.not_before) {
    while (window.earliest < static_cast<int>(stages.size()) &&
           stages[static_cast<std::size_t>(window.earliest)].bench < *job.not_before) {
      ++window.earliest;
    }
  }
  if (job.by) {
    while (window.latest >= 0 && stages[static_cast<std::size_t>(window.latest)].bench > *job.by) {
      --window.latest;
    }
  }
  return window;
}

std::vector<std::vector<int>> together_of(const build::Build& build) {
  const IdTable jobs(build.jobs);
  std::vector<int> root(build.jobs.size());
  std::iota(root.begin(), root.end(), 0);
  const auto find = [&](int j) {
    while (root[static_cast<std::size_t>(j)] != j) j = root[static_cast<std::size_t>(j)];
    return j;
  };
  for (std::size_t j = 0; j < build.jobs.size(); ++j) {
    for (const int other : jobs.find_all(build.jobs[j].together_with)) {
      const int a = find(static_cast<int>(j)), b = find(other);
      root[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    }
  }
  std::map<int, std::vector<int>> members;
  for (std::size_t j = 0; j < root.size(); ++j)
    members[find(static_cast<int>(j))].push_back(static_cast<int>(j));
  std::vector<std::vector<int>> groups;
  for (auto& [first, group] : members) {
    if (group.size() > 1) groups.push_back(std::move(group));
  }
  return groups;
}

}  // namespace fettlefund::planning
