#include <algorithm>
#include <functional>
#include <queue>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {
namespace {

using Graph = std::vector<std::vector<int>>;

bool differ(const Carrier& a, const Carrier& b) {
  for (const Carrier::Mate& x : a.mates) {
    for (const Carrier::Mate& y : b.mates) {
      if (x.key == y.key && x.value != y.value) return true;
    }
  }
  return false;
}

/// Carrier `stays` is never taken away once `job` brings it; `old` is there from the start and only one job
/// takes it away. Where they may not meet, `job` requires that other job, or can never be done.
void require_removal(const Carrier& stays, const Carrier& old, const std::vector<int>& adapted_by,
                     Graph& graph) {
  if (stays.brought_by < 0 || !stays.replaced_by.empty() || old.brought_by >= 0) return;
  std::vector<int> ways = old.replaced_by;
  ways.insert(ways.end(), adapted_by.begin(), adapted_by.end());
  if (ways.size() == 1 && ways[0] != stays.brought_by) graph[stays.brought_by].push_back(ways[0]);
}

void require_fit(const ProblemData& data, Graph& graph) {
  const auto& carriers = data.carriers;
  for (std::size_t a = 0; a < carriers.size(); ++a) {
    for (std::size_t b = 0; b < carriers.size(); ++b) {
      if (a != b && differ(carriers[a], carriers[b])) require_removal(carriers[a], carriers[b], {}, graph);
    }
  }
  for (const Clash& clash : data.clashes) {
    if (clash.a == clash.b) continue;
    require_removal(carriers[clash.a], carriers[clash.b], clash.adapted_by, graph);
    require_removal(carriers[clash.b], carriers[clash.a], clash.adapted_by, graph);
  }
}

/// Nodes in order of leaving a depth-first walk.
std::vector<int> leaving_order(const Graph& graph) {
  std::vector<int> order;
  std::vector<std::size_t> next(graph.size(), 0);
  std::vector<char> seen(graph.size(), 0);
  std::vector<int> path;
  for (int root = 0; root < static_cast<int>(graph.size()); ++root) {
    if (seen[root]) continue;
    seen[root] = 1;
    path.push_back(root);
    while (!path.empty()) {
      const int node = path.back();
      if (next[node] == graph[node].size()) {
        order.push_back(node);
        path.pop_back();
        continue;
      }
      const int to = graph[node][next[node]++];
      if (!seen[to]) {
        seen[to] = 1;
        path.push_back(to);
      }
    }
  }
  return order;
}

/// Marks with `mark` all that reach `root` and bear no mark yet.
void flood(const Graph& reversed, int root, int mark, std::vector<int>& marks) {
  std::vector<int> open{root};
  marks[root] = mark;
  while (!open.empty()) {
    const int node = open.back();
    open.pop_back();
    for (int to : reversed[node]) {
      if (marks[to] >= 0) continue;
      marks[to] = mark;
      open.push_back(to);
    }
  }
}

Graph reverse(const Graph& graph) {
  Graph reversed(graph.size());
  for (std::size_t i = 0; i < graph.size(); ++i) {
    for (int to : graph[i]) reversed[to].push_back(static_cast<int>(i));
  }
  return reversed;
}

/// Renumbers components in the order in which they become free of requirements, by lowest member.
std::vector<int> sort_components(const Graph& graph, const std::vector<int>& component, int count) {
  std::vector<std::vector<int>> dependents(count);
  std::vector<int> open(count, 0);
  std::vector<int> lowest(count, -1);
  for (int i = 0; i < static_cast<int>(graph.size()); ++i) {
    if (lowest[component[i]] < 0) lowest[component[i]] = i;
    for (int to : graph[i]) {
      if (component[to] == component[i]) continue;
      dependents[component[to]].push_back(component[i]);
      ++open[component[i]];
    }
  }
  std::priority_queue<std::pair<int, int>, std::vector<std::pair<int, int>>, std::greater<>> ready;
  for (int c = 0; c < count; ++c) {
    if (open[c] == 0) ready.emplace(lowest[c], c);
  }
  std::vector<int> number(count, 0);
  for (int n = 0; !ready.empty(); ++n) {
    const int c = ready.top().second;
    ready.pop();
    number[c] = n;
    for (int d : dependents[c]) {
      if (--open[d] == 0) ready.emplace(lowest[d], d);
    }
  }
  return number;
}

}  // namespace

std::vector<std::vector<int>> required_jobs(const ProblemData& data) {
  Graph graph;
  for (const Job& job : data.jobs) graph.push_back(job.after);
  for (const auto& group : data.together) {
    for (std::size_t i = 0; i < group.size(); ++i) {
      graph[group[i]].push_back(group[(i + 1) % group.size()]);
    }
  }
  require_fit(data, graph);
  return graph;
}

std::vector<int> number_components(const Graph& requires_) {
  const std::vector<int> order = leaving_order(requires_);
  const Graph reversed = reverse(requires_);
  std::vector<int> component(requires_.size(), -1);
  int count = 0;
  for (auto node = order.rbegin(); node != order.rend(); ++node) {
    if (component[*node] < 0) flood(reversed, *node, count++, component);
  }
  const std::vector<int> number = sort_components(requires_, component, count);
  for (int& c : component) c = number[c];
  return component;
}

}  // namespace fettlefund::budgets::search
