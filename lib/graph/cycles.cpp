#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

#include "lib/graph/closed_too_early.hpp"
#include "lib/graph/step_graph.hpp"
#include "lib/graph/work_order.hpp"

#include <fmt/format.h>

namespace fettlefund::graph {

namespace {

using build::Diagnostic;

constexpr std::size_t told_at_most = 12;    ///< members of a cycle that are named
constexpr std::size_t tried_at_most = 200;  ///< members of a cycle tried as the place to open it

/// "a needs b needs c needs a"; long ones are cut in the middle.
std::string path_text(const std::vector<std::string>& names) {
  std::string text = names.front();
  const bool cut = names.size() > told_at_most;
  for (std::size_t i = 1; i < names.size(); ++i) {
    if (cut && i == told_at_most - 1) {
      text += fmt::format(" needs ... ({} more)", names.size() - told_at_most);
      i = names.size() - 1;
    }
    text += " needs " + names[i];
  }
  return text + " needs " + names.front();
}

/// Whether the component falls apart without the arrows from one node to another.
bool opens_component(const Arrows& arrows, const std::vector<int>& component, int from, int to) {
  Arrows inner(arrows.size());
  for (const int node : component) {
    for (const int next : arrows[node]) {
      const bool inside = std::binary_search(component.begin(), component.end(), next);
      if (inside && (node != from || next != to)) inner[node].push_back(next);
    }
  }
  return in_order(inner).size() == inner.size();
}

/// The place in the cycle whose arrow to the next member is best taken out, and whether that is enough.
std::pair<std::size_t, bool> best_cut(const Arrows& arrows, const std::vector<int>& component,
                                      const std::vector<int>& cycle) {
  const std::size_t last = cycle.size() - 1;
  for (std::size_t tried = 0; tried < std::min(cycle.size(), tried_at_most); ++tried) {
    const std::size_t i = last - tried;
    if (opens_component(arrows, component, cycle[i], cycle[(i + 1) % cycle.size()])) return {i, true};
  }
  return {last, false};
}

std::string remedy(const std::string& id, const std::string& key, const std::string& owner, bool enough) {
  const std::string text = fmt::format("no circle: take \"{}\" out of \"{}\" of {}", id, key, owner);
  return enough ? text : text + " (more circles hang on it)";
}

Diagnostic error_at(const build::Build& build, const build::Place& place, std::string pointer) {
  Diagnostic error;
  error.file = build.file;
  error.place = place;
  error.pointer = std::move(pointer);
  return error;
}

/// Cycles among jobs or removals: `things` in file order, `arrows` from each to what it needs by `key`.
template <typename Thing>
void tell_cycles(const build::Build& build, const std::vector<Thing>& things, const Arrows& arrows,
                 const std::string& list, const std::string& key, std::vector<Diagnostic>& told) {
  for (const auto& component : cyclic_components(arrows)) {
    const std::vector<int> cycle = shortest_cycle(arrows, component);
    const auto [cut, enough] = best_cut(arrows, component, cycle);
    const Thing& first = things[cycle.front()];
    Diagnostic error = error_at(build, first.place, fmt::format("/{}/{}/{}", list, first.id, key));
    std::vector<std::string> names;
    for (const int member : cycle) names.push_back(things[member].id);
    error.found = path_text(names);
    error.expected = remedy(things[cycle[(cut + 1) % cycle.size()]].id, key, things[cycle[cut]].id, enough);
    told.push_back(std::move(error));
  }
}

/// Cycles that steps' `after` close, over all jobs and removals as if they shared one stage.
class StepCycles {
 public:
  StepCycles(const build::Build& build, const Index& index)
      : build_(build),
        graph_(step_graph(build, all(build.jobs.size()), of_file(build), removal_needs(build, index))) {
    add_beginnings(graph_, job_after(build, index));
    needs_ = reversed(graph_.arrows);
  }

  void tell(std::vector<Diagnostic>& told) const {
    for (const auto& component : cyclic_components(needs_)) told.push_back(error_for(component));
  }

 private:
  static std::vector<int> all(std::size_t count) {
    std::vector<int> indices(count);
    std::iota(indices.begin(), indices.end(), 0);
    return indices;
  }

  static std::vector<int> of_file(const build::Build& build) {
    std::vector<int> indices = all(build.removals.size());
    std::erase_if(indices, [&](int r) { return build.removals[static_cast<std::size_t>(r)].added; });
    return indices;
  }

  template <typename Use>
  auto with_owner(int step, Use use) const {
    const Origin& origin = graph_.origins[step];
    return origin.part == Part::work ? use(build_.jobs[origin.index]) : use(build_.removals[origin.index]);
  }
  build::Place place_of(int step) const {
    return with_owner(step, [](const auto& owner) { return owner.place; });
  }
  Id owner_id(int step) const {
    return with_owner(step, [](const auto& owner) { return owner.id; });
  }

  const char* list_of(int step) const {
    constexpr const char* names[] = {"off", "steps", "on"};
    return names[static_cast<int>(graph_.origins[step].part)];
  }

  std::string pointer_to(int step) const {
    const bool job = graph_.origins[step].part == Part::work;
    const std::string owner = fmt::format("/{}/{}", job ? "jobs" : "removals", owner_id(step));
    const int place = graph_.steps[step].place;
    return place < 0 ? owner : fmt::format("{}/{}/{}", owner, list_of(step), place);
  }

  std::string name_of(int step) const {
    const WrittenStep& written = graph_.steps[step];
    const std::string where = fmt::format("{}/{}", owner_id(step), list_of(step));
    if (!written.id.empty()) return fmt::format("\"{}\" ({})", written.id, where);
    if (written.place >= 0) return fmt::format("step {} of {}", written.place + 1, where);
    return fmt::format("the rest of {}", where);
  }

  auto file_order(int step) const {
    const build::Place place = place_of(step);
    return std::tuple(place.line, place.column, step);
  }

  bool is_asked(int step, int earlier) const {
    const auto& later = graph_.asked[earlier];
    return std::find(later.begin(), later.end(), step) != later.end();
  }

  /// Leaves out steps that only stand between two others of their own block.
  std::vector<std::string> names_along(const std::vector<int>& cycle) const {
    std::vector<std::string> names;
    const std::size_t n = cycle.size();
    for (std::size_t i = 0; i < n; ++i) {
      const int before = cycle[(i + n - 1) % n], at = cycle[i], next = cycle[(i + 1) % n];
      const bool between = i > 0 && before == at + 1 && next == at - 1;
      if (!between || is_asked(before, at) || is_asked(at, next)) names.push_back(name_of(at));
    }
    return names;
  }

  Diagnostic error_for(const std::vector<int>& component) const {
    std::vector<int> cycle = shortest_cycle(needs_, component);
    std::rotate(cycle.begin(),
                std::min_element(cycle.begin(), cycle.end(),
                                 [&](int a, int b) { return file_order(a) < file_order(b); }),
                cycle.end());
    Diagnostic error = error_at(build_, place_of(cycle.front()), pointer_to(cycle.front()));
    error.found = path_text(names_along(cycle));
    error.expected = remedy_for(component, cycle);
    return error;
  }

  std::string remedy_for(const std::vector<int>& component, const std::vector<int>& cycle) const {
    int from = -1, to = -1;
    bool enough = false;
    for (std::size_t i = 0; i < cycle.size() && !enough; ++i) {
      const int step = cycle[i], earlier = cycle[(i + 1) % cycle.size()];
      if (!is_asked(step, earlier)) continue;
      from = step;
      to = earlier;
      enough = opens_component(needs_, component, from, to);
    }
    return remedy(graph_.steps[to].id, "after", name_of(from), enough);
  }

  const build::Build& build_;
  StepGraph graph_;
  Arrows needs_;
};

}  // namespace

std::vector<Diagnostic> check_cycles(const build::Build& build) {
  const Index index(build);
  std::vector<Diagnostic> told;
  tell_cycles(build, build.removals, removal_needs(build, index), "removals", "needs", told);
  tell_cycles(build, build.jobs, job_after(build, index), "jobs", "after", told);
  StepCycles(build, index).tell(told);
  if (told.empty()) told = closed_too_early(build, index);
  return told;
}

}  // namespace fettlefund::graph
