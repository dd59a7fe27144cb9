#include "lib/questions/trial.hpp"

#include <algorithm>
#include <set>

#include "budgets/problem/tools.hpp"

namespace fettlefund::planning {
namespace {

/// The tools that a stage uses by a schedule.
std::vector<int> tools_used(const View& view, const budgets::Schedule& schedule, int stage) {
  std::vector<int> jobs;
  std::set<int> opened;
  for (int j = 0; j < view.problem.job_count(); ++j) {
    if (schedule.stage_of[static_cast<std::size_t>(j)] != stage) continue;
    jobs.push_back(j);
    opened.insert(view.problem.opened_by(j).begin(), view.problem.opened_by(j).end());
  }
  return budgets::tools_used(view.problem.data(), schedule, jobs, {opened.begin(), opened.end()}, stage);
}

/// The stage for which a tool is bought: as planned if it is used there, else the first that uses it and can
/// neither have it free nor hire it; before that one if it has to be.
int when_bought(const budgets::Tool& tool, int planned, const std::vector<char>& used) {
  int needed = -1;
  for (int t = static_cast<int>(used.size()) - 1; t >= 0; --t) {
    const auto at = static_cast<std::size_t>(t);
    const bool free = !tool.free.empty() && tool.free[at];
    if (used[at] && !free && !tool.hire && !tool.offers.empty()) needed = t;
  }
  if (planned >= 0 && used[static_cast<std::size_t>(planned)] && (needed < 0 || planned <= needed))
    return planned;
  return needed;
}

}  // namespace

std::vector<int> unit_of(const budgets::ProblemData& data, int job) {
  for (const std::vector<int>& group : data.together) {
    if (std::find(group.begin(), group.end(), job) != group.end()) return group;
  }
  return {job};
}

budgets::Schedule schedule_with(const View& view, const std::vector<int>& jobs, int stage) {
  budgets::Schedule schedule = view.plan.schedule;
  for (const int j : jobs) schedule.stage_of[static_cast<std::size_t>(j)] = stage;
  const std::vector<budgets::Tool>& tools = view.problem.data().tools;
  std::vector<std::vector<char>> used(tools.size(), std::vector<char>(view.problem.data().stages.size(), 0));
  for (int t = 0; t < view.problem.stage_count(); ++t) {
    for (const int k : tools_used(view, schedule, t)) {
      used[static_cast<std::size_t>(k)][static_cast<std::size_t>(t)] = 1;
    }
  }
  for (std::size_t k = 0; k < tools.size(); ++k) {
    int& bought = schedule.tool_bought[k];
    bought = when_bought(tools[k], bought, used[k]);
  }
  return schedule;
}

}  // namespace fettlefund::planning
