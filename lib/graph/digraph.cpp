#include "lib/graph/digraph.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <queue>
#include <utility>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/graph/visitors.hpp>

namespace fettlefund::graph {

namespace {

using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS>;

Graph graph_of(const Arrows& arrows) {
  Graph graph(arrows.size());
  for (std::size_t from = 0; from < arrows.size(); ++from) {
    for (const int to : arrows[from]) boost::add_edge(from, static_cast<std::size_t>(to), graph);
  }
  return graph;
}

bool points_to_itself(const Arrows& arrows, int node) {
  return std::find(arrows[node].begin(), arrows[node].end(), node) != arrows[node].end();
}

/// The arrows between members, which are renumbered by their place in `members`.
Arrows among(const Arrows& arrows, const std::vector<int>& members) {
  std::vector<int> place(arrows.size(), -1);
  for (std::size_t i = 0; i < members.size(); ++i) place[members[i]] = static_cast<int>(i);
  Arrows inner(members.size());
  for (std::size_t i = 0; i < members.size(); ++i) {
    for (const int to : arrows[members[i]]) {
      if (place[to] >= 0) inner[i].push_back(place[to]);
    }
  }
  return inner;
}

/// Breadth first from `start`: the node each node was reached from (-1: not reached) and how far it is.
struct Reached {
  std::vector<int> from;
  std::vector<int> distance;
};

Reached search(const Graph& graph, int start) {
  const std::size_t n = boost::num_vertices(graph);
  Reached reached{std::vector<int>(n, -1), std::vector<int>(n, 0)};
  const auto visitor = boost::make_bfs_visitor(
      std::make_pair(boost::record_predecessors(reached.from.data(), boost::on_tree_edge()),
                     boost::record_distances(reached.distance.data(), boost::on_tree_edge())));
  boost::breadth_first_search(graph, static_cast<std::size_t>(start), boost::visitor(visitor));
  return reached;
}

/// The shortest cycle through `start`, from `start`; empty if there is none shorter than `shorter_than`.
std::vector<int> cycle_through(const Graph& graph, const Arrows& arrows, int start,
                               std::size_t shorter_than) {
  const Reached reached = search(graph, start);
  int last = -1;
  for (int node = 0; node < static_cast<int>(arrows.size()); ++node) {
    if (node != start && reached.from[node] < 0) continue;
    if (std::find(arrows[node].begin(), arrows[node].end(), start) == arrows[node].end()) continue;
    if (last < 0 || reached.distance[node] < reached.distance[last]) last = node;
  }
  if (last < 0 || static_cast<std::size_t>(reached.distance[last]) + 1 >= shorter_than) return {};
  std::vector<int> cycle{last};
  while (cycle.back() != start) cycle.push_back(reached.from[cycle.back()]);
  std::reverse(cycle.begin(), cycle.end());
  return cycle;
}

}  // namespace

std::vector<std::vector<int>> cyclic_components(const Arrows& arrows) {
  const Graph graph = graph_of(arrows);
  std::vector<int> component(arrows.size());
  boost::strong_components(
      graph, boost::make_iterator_property_map(component.begin(), boost::get(boost::vertex_index, graph)));
  std::map<int, std::vector<int>> members;
  for (std::size_t i = 0; i < arrows.size(); ++i) members[component[i]].push_back(static_cast<int>(i));
  std::vector<std::vector<int>> result;
  for (auto& [key, nodes] : members) {
    if (nodes.size() > 1 || points_to_itself(arrows, nodes.front())) result.push_back(std::move(nodes));
  }
  std::sort(result.begin(), result.end());
  return result;
}

std::vector<int> shortest_cycle(const Arrows& arrows, const std::vector<int>& members) {
  constexpr int starts_at_most = 400;
  const Arrows inner = among(arrows, members);
  const Graph graph = graph_of(inner);
  std::vector<int> best;
  const int starts = std::min(starts_at_most, static_cast<int>(members.size()));
  for (int start = 0; start < starts && best.size() != 1; ++start) {
    auto cycle = cycle_through(graph, inner, start, best.empty() ? members.size() + 1 : best.size());
    if (!cycle.empty()) best = std::move(cycle);
  }
  std::rotate(best.begin(), std::min_element(best.begin(), best.end()), best.end());
  for (int& node : best) node = members[node];
  return best;
}

bool reaches(const Arrows& arrows, int from, int to) {
  std::vector<char> seen(arrows.size(), 0);
  std::vector<int> open{from};
  while (!open.empty()) {
    const int node = open.back();
    open.pop_back();
    if (node == to) return true;
    if (std::exchange(seen[node], 1)) continue;
    open.insert(open.end(), arrows[node].begin(), arrows[node].end());
  }
  return false;
}

std::vector<int> in_order(const Arrows& arrows) {
  std::vector<int> waiting(arrows.size(), 0);
  for (const auto& next : arrows) {
    for (const int to : next) ++waiting[to];
  }
  std::priority_queue<int, std::vector<int>, std::greater<>> ready;
  for (std::size_t i = 0; i < arrows.size(); ++i) {
    if (waiting[i] == 0) ready.push(static_cast<int>(i));
  }
  std::vector<int> order;
  while (!ready.empty()) {
    const int node = ready.top();
    ready.pop();
    order.push_back(node);
    for (const int to : arrows[node]) {
      if (--waiting[to] == 0) ready.push(to);
    }
  }
  return order;
}

}  // namespace fettlefund::graph
