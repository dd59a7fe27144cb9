#include <algorithm>
#include <set>

#include "budgets/problem/problem.hpp"

namespace fettlefund::budgets {
namespace {

/// Bench time of the stage up to and including a day before its last.
std::int64_t minutes_by(const Stage& stage, Date day) {
  std::int64_t minutes = 0;
  for (const Mark& mark : stage.marks) {
    if (mark.day <= day) minutes = mark.minutes;
  }
  return minutes;
}

std::int64_t minutes_of(const Problem& problem, const std::set<int>& jobs) {
  std::int64_t minutes = 0;
  std::set<int> opened;
  for (const int j : jobs) {
    minutes += problem.data().jobs[j].minutes;
    opened.insert(problem.opened_by(j).begin(), problem.opened_by(j).end());
  }
  for (const int r : opened) minutes += problem.data().removals[r].minutes;
  return minutes;
}

}  // namespace

std::optional<Overdue> overdue_in(const Problem& problem, int stage, const std::vector<int>& jobs) {
  const Stage& at = problem.data().stages[stage];
  if (at.last_day() == at.bench) return std::nullopt;
  std::vector<std::pair<Date, int>> due;
  for (const int j : jobs) {
    const auto& by = problem.data().jobs[j].by;
    if (by && *by >= at.bench && *by < at.last_day()) due.emplace_back(*by, j);
  }
  std::sort(due.begin(), due.end());
  std::set<int> so_far;
  for (std::size_t i = 0; i < due.size(); ++i) {
    for (const int j : problem.due_with(due[i].second)) {
      if (std::find(jobs.begin(), jobs.end(), j) != jobs.end()) so_far.insert(j);
    }
    if (i + 1 < due.size() && due[i + 1].first == due[i].first) continue;
    const Overdue now{due[i].first, minutes_of(problem, so_far), minutes_by(at, due[i].first)};
    if (now.minutes > now.room) return now;
  }
  return std::nullopt;
}

}  // namespace fettlefund::budgets
