#include "budgets/problem/problem.hpp"

#include <algorithm>
#include <queue>
#include <stdexcept>
#include <utility>

#include "budgets/problem/check.hpp"

namespace fettlefund::budgets {
namespace {

/// `edges[i]` lists what must come before i. Sorted by that, among equals by index; shorter than `edges` if
/// there is a cycle.
std::vector<int> sort_by_need(const std::vector<std::vector<int>>& edges) {
  std::vector<std::vector<int>> dependents(edges.size());
  std::vector<int> open(edges.size());
  std::priority_queue<int, std::vector<int>, std::greater<>> ready;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    open[i] = static_cast<int>(edges[i].size());
    for (int before : edges[i]) dependents[before].push_back(static_cast<int>(i));
    if (open[i] == 0) ready.push(static_cast<int>(i));
  }
  std::vector<int> sorted;
  while (!ready.empty()) {
    const int next = ready.top();
    ready.pop();
    sorted.push_back(next);
    for (int dependent : dependents[next]) {
      if (--open[dependent] == 0) ready.push(dependent);
    }
  }
  return sorted;
}

/// A cycle as text, "2 -> 5 -> 2". Every node that `sorted` misses leads, by needs it misses too, into one.
std::string write_cycle(const std::vector<std::vector<int>>& edges, const std::vector<int>& sorted) {
  std::vector<char> placed(edges.size(), 0);
  for (int i : sorted) placed[i] = 1;
  std::vector<int> path{static_cast<int>(std::find(placed.begin(), placed.end(), 0) - placed.begin())};
  for (;;) {
    const auto& needs = edges[path.back()];
    const int next = *std::find_if(needs.begin(), needs.end(), [&](int n) { return !placed[n]; });
    const bool seen = std::find(path.begin(), path.end(), next) != path.end();
    path.push_back(next);
    if (!seen) continue;
    std::string text = std::to_string(next);
    for (auto i = std::find(path.begin(), path.end(), next) + 1; i != path.end(); ++i) {
      text += " -> " + std::to_string(*i);
    }
    return text;
  }
}

std::vector<int> sort_or_refuse(const char* field, const std::vector<std::vector<int>>& edges) {
  std::vector<int> sorted = sort_by_need(edges);
  if (sorted.size() == edges.size()) return sorted;
  throw std::invalid_argument(std::string(field) + ": cycle " + write_cycle(edges, sorted));
}

std::vector<int> join(std::vector<int> a, const std::vector<int>& b) {
  a.insert(a.end(), b.begin(), b.end());
  std::sort(a.begin(), a.end());
  a.erase(std::unique(a.begin(), a.end()), a.end());
  return a;
}

/// For each removal itself and all it needs, directly or not; sorted.
std::vector<std::vector<int>> close_removals(const ProblemData& data) {
  std::vector<std::vector<int>> needs;
  for (const Removal& removal : data.removals) needs.push_back(removal.needs);
  std::vector<std::vector<int>> closed(needs.size());
  for (int r : sort_or_refuse("removals.needs", needs)) {
    closed[r] = {r};
    for (int n : needs[r]) closed[r] = join(std::move(closed[r]), closed[n]);
  }
  return closed;
}

/// The job and all that must be done before it or with it, directly or not; sorted.
std::vector<int> done_by_then(const ProblemData& data, int job) {
  std::vector<char> found(data.jobs.size(), 0);
  std::vector<int> open{job};
  while (!open.empty()) {
    const int j = open.back();
    open.pop_back();
    if (std::exchange(found[j], 1) != 0) continue;
    open.insert(open.end(), data.jobs[j].after.begin(), data.jobs[j].after.end());
    for (const std::vector<int>& group : data.together) {
      const bool among = std::find(group.begin(), group.end(), j) != group.end();
      if (among) open.insert(open.end(), group.begin(), group.end());
    }
  }
  std::vector<int> jobs;
  for (int j = 0; j < static_cast<int>(found.size()); ++j) {
    if (found[j]) jobs.push_back(j);
  }
  return jobs;
}

}  // namespace

Problem::Problem(ProblemData data) : data_(std::move(data)) {
  check_fields(data_);
  check_magnitudes(data_);
  const auto closed = close_removals(data_);
  std::vector<std::vector<int>> after;
  for (const Job& job : data_.jobs) {
    after.push_back(job.after);
    latest_.push_back(job.latest == -1 ? stage_count() - 1 : job.latest);
    std::vector<int> opened;
    for (int r : job.removals) opened = join(std::move(opened), closed[r]);
    opened_by_.push_back(std::move(opened));
  }
  order_ = sort_or_refuse("jobs.after", after);
  for (int j = 0; j < job_count(); ++j) {
    due_with_.push_back(data_.jobs[j].by ? done_by_then(data_, j) : std::vector<int>());
  }
}

int order_stage(const ProblemData& data, const Offer& offer, int stage) {
  const Date bench = data.stages[stage].bench;
  for (int s = stage; s >= 0; --s) {
    const Date payday = data.stages[s].payday;
    if (offer.from && payday < *offer.from) return -1;
    const bool open = !offer.until || payday <= *offer.until;
    if (open && payday + offer.lead_days <= bench) return s;
  }
  return -1;
}

int first_order_stage(const ProblemData& data, const Offer& offer, int stage) {
  const int last = order_stage(data, offer, stage);
  int first = 0;
  while (first < last && offer.from && data.stages[first].payday < *offer.from) ++first;
  return last < 0 ? -1 : first;
}

std::int64_t worth_of(const Renewal& renewal, const std::vector<int>& stage_of) {
  std::int64_t most = 0;
  int first = -1;
  for (std::size_t i = 0; i < renewal.jobs.size(); ++i) {
    const int stage = stage_of[renewal.jobs[i]];
    if (stage < 0 || (first >= 0 && stage > first)) continue;
    if (stage != first) most = 0;
    first = stage;
    most = std::max(most, renewal.worth[i][stage]);
  }
  return most;
}

bool charges_delivery(const Supplier& supplier) {
  return supplier.delivery > Money() && !(supplier.free_from && *supplier.free_from <= Money());
}

}  // namespace fettlefund::budgets
