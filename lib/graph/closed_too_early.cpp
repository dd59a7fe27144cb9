#include "lib/graph/closed_too_early.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "lib/graph/step_graph.hpp"
#include "lib/graph/work_order.hpp"

#include <fmt/format.h>

namespace fettlefund::graph {

namespace {

using build::Diagnostic;

/// Whether any step of taking off waits for anything: only then there is something to look for.
bool any_waits(const build::Build& build) {
  return std::any_of(build.removals.begin(), build.removals.end(), [](const build::Removal& removal) {
    return std::any_of(removal.off.begin(), removal.off.end(),
                       [](const build::Step& step) { return !step.after.empty(); });
  });
}

class OneJob {
 public:
  OneJob(const build::Build& build, const build::Job& job, const std::vector<int>& removals,
         const Arrows& needs)
      : build_(build), job_(job), graph_(step_graph(build, {}, removals, needs)) {
    arrows_ = graph_.arrows;
    work_ = static_cast<int>(arrows_.size());
    arrows_.emplace_back();
    for (const auto& [r, off] : graph_.off) arrows_[at(off.end - 1)].push_back(work_);
    for (const auto& [r, on] : graph_.on) {
      if (!graph_.steps[at(on.first)].hidden) arrows_[at(work_)].push_back(on.first);
    }
  }

  void tell(std::set<std::string>& known, std::vector<Diagnostic>& told) const {
    const Arrows needs = reversed(arrows_);
    for (const auto& component : cyclic_components(needs)) {
      std::vector<int> cycle = shortest_cycle(needs, component);
      const auto off = std::find_if(cycle.begin(), cycle.end(), [&](int step) { return waits(step); });
      if (off == cycle.end()) continue;
      std::rotate(cycle.begin(), off, cycle.end());
      Diagnostic error = error_for(cycle);
      if (known.insert(error.pointer).second) told.push_back(std::move(error));
    }
  }

 private:
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }

  const build::Removal& owner(int step) const { return build_.removals[at(graph_.origins[at(step)].index)]; }

  bool waits(int step) const {
    return step != work_ && graph_.origins[at(step)].part == Part::off &&
           !graph_.steps[at(step)].after.empty();
  }

  const char* list_of(int step) const { return graph_.origins[at(step)].part == Part::off ? "off" : "on"; }

  std::string name_of(int step) const {
    if (step == work_) return fmt::format("the work of {}", job_.id);
    const WrittenStep& written = graph_.steps[at(step)];
    const std::string where = fmt::format("{}/{}", owner(step).id, list_of(step));
    if (!written.id.empty()) return fmt::format("\"{}\" ({})", written.id, where);
    if (written.place >= 0) return fmt::format("step {} of {}", written.place + 1, where);
    return fmt::format("the rest of {}", where);
  }

  Diagnostic error_for(const std::vector<int>& cycle) const {
    const int first = cycle.front();
    Diagnostic error;
    error.file = build_.file;
    error.place = owner(first).place;
    error.pointer =
        fmt::format("/removals/{}/off/{}", owner(first).id, std::max(0, graph_.steps[at(first)].place));
    for (const int step : cycle) error.found += name_of(step) + " needs ";
    error.found += name_of(first);
    error.expected = fmt::format("no circle: \"{}\" needs {} off at the same time", job_.id, both(cycle));
    return error;
  }

  std::string both(const std::vector<int>& cycle) const {
    std::vector<std::string> ids;
    for (const int step : cycle) {
      if (step == work_) continue;
      const std::string id = fmt::format("\"{}\"", owner(step).id);
      if (std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
    }
    return fmt::format("{}", fmt::join(ids, " and "));
  }

  const build::Build& build_;
  const build::Job& job_;
  StepGraph graph_;
  Arrows arrows_;
  int work_ = 0;
};

}  // namespace

std::vector<Diagnostic> closed_too_early(const build::Build& build, const Index& index) {
  std::vector<Diagnostic> told;
  if (!any_waits(build)) return told;
  const Arrows needs = removal_needs(build, index);
  std::set<std::string> known;
  for (const build::Job& job : build.jobs) {
    const std::vector<int> removals = closed_over_needs(build, index.removals(job.removals));
    if (removals.size() > 1) OneJob(build, job, removals, needs).tell(known, told);
  }
  return told;
}

}  // namespace fettlefund::graph
