#include "lib/graph/step_graph.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace fettlefund::graph {

namespace {

/// Which component each node is tied in; -1: none.
std::vector<int> component_of(const Arrows& arrows) {
  std::vector<int> of(arrows.size(), -1);
  const auto tied = cyclic_components(arrows);
  for (std::size_t k = 0; k < tied.size(); ++k) {
    for (const int node : tied[k]) of[node] = static_cast<int>(k);
  }
  return of;
}

class Maker {
 public:
  Maker(const build::Build& build, const Arrows& needs) : build_(build), needs_(needs) {}

  StepGraph make(const std::vector<int>& jobs, const std::vector<int>& removals) {
    for (const int r : removals) {
      graph_.off[r] = add_block(off_steps(build_.removals[r]), Part::off, r);
      graph_.on[r] = add_block(on_steps(build_, build_.removals[r]), Part::on, r);
    }
    for (const int j : jobs) graph_.work[j] = add_block(job_steps(build_, build_.jobs[j]), Part::work, j);
    for (const auto& [r, off] : graph_.off) arrow(off.end - 1, graph_.on[r].first);
    order_removals();
    order_as_asked();
    return std::move(graph_);
  }

 private:
  void arrow(int from, int to) { graph_.arrows[from].push_back(to); }

  Block add_block(std::vector<WrittenStep> steps, Part part, int index) {
    const int first = static_cast<int>(graph_.steps.size());
    const int end = first + static_cast<int>(steps.size());
    std::move(steps.begin(), steps.end(), std::back_inserter(graph_.steps));
    graph_.arrows.resize(graph_.steps.size());
    for (int i = first; i < end; ++i) graph_.origins.push_back({part, index, i - first});
    for (int i = first; i + 1 < end; ++i) arrow(i, i + 1);
    return {first, end};
  }

  void order_removals() {
    const std::vector<int> component = component_of(needs_);
    for (const auto& [r, off] : graph_.off) {
      for (const int need : needs_[r]) {
        const auto below = graph_.off.find(need);
        if (below == graph_.off.end() || (component[r] >= 0 && component[r] == component[need])) continue;
        arrow(below->second.end - 1, off.first);
        arrow(graph_.on[r].end - 1, graph_.on[need].first);
      }
    }
  }

  bool same_block(int a, int b) const {
    return graph_.origins[a].part == graph_.origins[b].part &&
           graph_.origins[a].index == graph_.origins[b].index;
  }

  std::vector<int> meant(int step, const std::vector<int>& with_id) const {
    std::vector<int> own;
    std::copy_if(with_id.begin(), with_id.end(), std::back_inserter(own),
                 [&](int other) { return same_block(step, other); });
    return own.empty() ? with_id : own;
  }

  void order_as_asked() {
    std::map<Id, std::vector<int>> by_id;
    for (std::size_t i = 0; i < graph_.steps.size(); ++i) {
      if (!graph_.steps[i].id.empty()) by_id[graph_.steps[i].id].push_back(static_cast<int>(i));
    }
    graph_.asked.resize(graph_.steps.size());
    for (std::size_t i = 0; i < graph_.steps.size(); ++i) {
      for (const Id& id : graph_.steps[i].after) ask(static_cast<int>(i), by_id[id]);
    }
  }

  void ask(int step, const std::vector<int>& with_id) {
    for (const int earlier : meant(step, with_id)) {
      arrow(earlier, step);
      graph_.asked[earlier].push_back(step);
    }
  }

  const build::Build& build_;
  const Arrows& needs_;
  StepGraph graph_;
};

using Pair = std::pair<int, int>;

void want_open_time(const StepGraph& graph, const std::map<int, std::vector<int>>& removals_of,
                    std::vector<Pair>& wanted) {
  for (const auto& [job, removals] : removals_of) {
    const Block work = graph.work.at(job);
    for (int step = work.first; step < work.end; ++step) {
      for (const int r : removals) {
        wanted.emplace_back(graph.off.at(r).end - 1, step);
        wanted.emplace_back(step, graph.on.at(r).first);
      }
    }
  }
}

void want_order_of_jobs(const StepGraph& graph, const Arrows& after, std::vector<Pair>& wanted) {
  for (const auto& [job, work] : graph.work) {
    for (const int earlier : after[job]) {
      const auto before = graph.work.find(earlier);
      if (before == graph.work.end() || earlier == job) continue;
      for (int step = before->second.first; step < before->second.end; ++step)
        wanted.emplace_back(step, work.first);
    }
  }
}

/// Adds the wanted arrows in turn, each unless it closes a cycle with those there. Only arrows within a
/// component of them all can do so.
void add_where_free(Arrows& arrows, const std::vector<Pair>& wanted) {
  Arrows all = arrows;
  for (const auto& [from, to] : wanted) all[from].push_back(to);
  const std::vector<int> component = component_of(all);
  const auto doubtful = [&](const Pair& p) {
    return component[p.first] >= 0 && component[p.first] == component[p.second];
  };
  for (const Pair& p : wanted) {
    if (!doubtful(p)) arrows[p.first].push_back(p.second);
  }
  for (const Pair& p : wanted) {
    if (doubtful(p) && !reaches(arrows, p.second, p.first)) arrows[p.first].push_back(p.second);
  }
}

}  // namespace

StepGraph step_graph(const build::Build& build, const std::vector<int>& jobs,
                     const std::vector<int>& removals, const Arrows& needs) {
  return Maker(build, needs).make(jobs, removals);
}

void add_beginnings(StepGraph& graph, const Arrows& after) {
  const std::vector<int> component = component_of(after);
  for (const auto& [job, work] : graph.work) {
    for (const int earlier : after[job]) {
      const auto before = graph.work.find(earlier);
      if (before == graph.work.end() || (component[job] >= 0 && component[job] == component[earlier]))
        continue;
      graph.arrows[before->second.first].push_back(work.first);
    }
  }
}

void add_whole_jobs(StepGraph& graph, const std::map<int, std::vector<int>>& removals_of,
                    const Arrows& after) {
  std::vector<Pair> wanted;
  want_open_time(graph, removals_of, wanted);
  want_order_of_jobs(graph, after, wanted);
  add_where_free(graph.arrows, wanted);
}

}  // namespace fettlefund::graph
