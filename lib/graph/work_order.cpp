#include "lib/graph/work_order.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "lib/graph/bench_order.hpp"
#include "lib/graph/due_jobs.hpp"
#include "lib/graph/emission.hpp"
#include "lib/graph/step_graph.hpp"
#include "lib/graph/step_time.hpp"

namespace fettlefund::graph {

namespace {

std::vector<int> sorted_once(std::vector<int> values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values;
}

/// `start` and all that its members need, ascending.
std::vector<int> closure(const Arrows& needs, std::vector<int> start) {
  std::set<int> found;
  while (!start.empty()) {
    const int r = start.back();
    start.pop_back();
    if (found.insert(r).second) start.insert(start.end(), needs[r].begin(), needs[r].end());
  }
  return {found.begin(), found.end()};
}

/// Adds an arrow unless it closes a cycle.
void add_if_free(Arrows& arrows, int from, int to) {
  if (from != to && !reaches(arrows, to, from)) arrows[from].push_back(to);
}

/// Turns the jobs and removals of one stage into a Bench and its events back into build indices.
class Stage {
 public:
  Stage(const build::Build& build, std::vector<int> jobs, const std::vector<int>& removals,
        const std::vector<build::Date>& days)
      : build_(build),
        days_(days),
        index_(build),
        needs_(removal_needs(build, index_)),
        after_(job_after(build, index_)),
        jobs_(std::move(jobs)) {
    std::vector<int> wanted = removals;
    for (const int j : jobs_) {
      uses_[j] = closure(needs_, index_.removals(build.jobs[j].removals));
      wanted.insert(wanted.end(), uses_[j].begin(), uses_[j].end());
    }
    removals_ = closure(needs_, std::move(wanted));
    take_off_once();
    join_partners();
  }

  std::vector<int> steps(StepGraph& graph) {
    graph = step_graph(build_, jobs_, removals_, needs_);
    const std::vector<Event> events = in_build_indices(bench_order(bench(graph)));
    add_whole_jobs(graph, uses_, after_);
    return wholes_last(graph, emission(graph, events));
  }

 private:
  static int place(const std::vector<int>& sorted, int value) {
    return static_cast<int>(std::lower_bound(sorted.begin(), sorted.end(), value) - sorted.begin());
  }
  bool is_used(int job, int removal) const {
    const auto& uses = uses_.at(job);
    return std::binary_search(uses.begin(), uses.end(), removal);
  }

  /// Where what stands for a removal is at hand, all that use the removal use the other: it comes off once.
  void take_off_once() {
    std::map<int, int> others;
    for (const int r : removals_) {
      for (const int original : index_.removals({build_.removals[r].stands_for})) others[original] = r;
    }
    if (others.empty()) return;
    const auto put_others = [&](std::vector<int>& removals) {
      for (int& r : removals) r = others.contains(r) ? others.at(r) : r;
      removals = sorted_once(removals);
    };
    for (std::vector<int>& needs : needs_) put_others(needs);
    for (auto& [job, uses] : uses_) {
      put_others(uses);
      uses = closure(needs_, uses);
    }
    put_others(removals_);
    removals_ = closure(needs_, removals_);
  }

  /// A job that uses no removal, done with others that do, is done while theirs are off.
  void join_partners() {
    const std::map<int, std::vector<int>> own = uses_;
    for (const int job : jobs_) {
      if (!own.at(job).empty()) continue;
      std::vector<int> first, common;
      for (const int partner : jobs_) {
        const std::vector<int>& used = own.at(partner);
        if (used.empty() || !together(build_, job, partner)) continue;
        if (first.empty()) first = common = used;
        std::vector<int> both;
        std::set_intersection(common.begin(), common.end(), used.begin(), used.end(),
                              std::back_inserter(both));
        common = std::move(both);
      }
      uses_[job] = common.empty() ? first : common;
    }
  }

  /// Moves the checks of the whole behind the last step that puts back what their job or removal had off.
  std::vector<int> wholes_last(const StepGraph& graph, const std::vector<int>& order) const {
    std::map<int, std::vector<int>> waiting;  ///< by the step that they follow
    std::vector<int> rest;
    for (const int step : order) {
      if (graph.steps[step].whole) {
        waiting[last_on(graph, step, order)].push_back(step);
      } else {
        rest.push_back(step);
      }
    }
    std::vector<int> result = waiting[-1];
    for (const int step : rest) {
      result.push_back(step);
      const auto checks = waiting.find(step);
      if (checks != waiting.end()) result.insert(result.end(), checks->second.begin(), checks->second.end());
    }
    return result;
  }

  /// The last step of the owner itself or of putting back what it had off, checks of the whole apart.
  int last_on(const StepGraph& graph, int check, const std::vector<int>& order) const {
    const Origin& from = graph.origins[check];
    const bool job = from.part == Part::work;
    const std::vector<int> had_off = job ? uses_.at(from.index) : closure(needs_, {from.index});
    int last = -1;
    for (const int step : order) {
      const Origin& at = graph.origins[step];
      const bool own = job && at.part == Part::work && at.index == from.index;
      const bool back = at.part == Part::on && std::binary_search(had_off.begin(), had_off.end(), at.index);
      if ((own || back) && !graph.steps[step].whole) last = step;
    }
    return last;
  }

  Bench bench(const StepGraph& graph) const {
    std::map<int, std::vector<int>> uses = uses_;
    Arrows followers(jobs_.size());
    follow_jobs(followers);
    for (const auto& [step, later] : asked_in_turn(graph)) respect(graph, step, later, followers, uses);
    follow_what_is_replaced(followers);
    follow_what_is_due(followers);
    Bench bench;
    bench.before = reversed(followers);
    for (const int j : jobs_) bench.uses.push_back(in_places(uses.at(j)));
    for (const int r : removals_) bench.needs.push_back(in_places(acyclic_needs(graph, r)));
    return bench;
  }

  std::vector<int> in_places(const std::vector<int>& removals) const {
    std::vector<int> places;
    for (const int r : removals) places.push_back(place(removals_, r));
    return places;
  }

  /// Needs as they stand in the graph, where those on a cycle are left out.
  std::vector<int> acyclic_needs(const StepGraph& graph, int removal) const {
    std::vector<int> needs;
    for (const int need : sorted_once(needs_[removal])) {
      const auto& later = graph.arrows[graph.off.at(need).end - 1];
      if (std::count(later.begin(), later.end(), graph.off.at(removal).first) > 0) needs.push_back(need);
    }
    return needs;
  }

  void follow_jobs(Arrows& followers) const {
    for (const int job : jobs_) {
      for (const int earlier : after_[job]) {
        if (std::binary_search(jobs_.begin(), jobs_.end(), earlier))
          add_if_free(followers, place(jobs_, earlier), place(jobs_, job));
      }
    }
  }

  /// What takes off again what another job fitted comes after it, where nothing else is asked.
  void follow_what_is_replaced(Arrows& followers) const {
    for (const int job : jobs_) {
      for (const int taker :
           sorted_once(index_.jobs(build_.jobs[static_cast<std::size_t>(job)].replaced_by))) {
        if (std::binary_search(jobs_.begin(), jobs_.end(), taker))
          add_if_free(followers, place(jobs_, job), place(jobs_, taker));
      }
    }
  }

  /// Jobs of earlier sessions come before the others, where nothing else is asked.
  void follow_what_is_due(Arrows& followers) const {
    if (days_.size() < 2) return;
    const std::vector<int> due = due_sessions(build_, jobs_, after_, days_);
    for (std::size_t early = 0; early < due.size(); ++early) {
      for (std::size_t late = 0; late < due.size(); ++late) {
        if (due[early] < due[late]) add_if_free(followers, static_cast<int>(early), static_cast<int>(late));
      }
    }
  }

  /// The `after` of steps, those of steps that stand early in their job or removal first.
  static std::vector<std::pair<int, int>> asked_in_turn(const StepGraph& graph) {
    std::vector<std::pair<int, int>> asked;
    for (std::size_t step = 0; step < graph.asked.size(); ++step) {
      for (const int later : graph.asked[step]) asked.emplace_back(static_cast<int>(step), later);
    }
    std::stable_sort(asked.begin(), asked.end(), [&](const auto& a, const auto& b) {
      return graph.origins[a.second].place < graph.origins[b.second].place;
    });
    return asked;
  }

  /// What a step's `after` means for whole jobs: the earlier step's job goes first, and it is done before
  /// the jobs that use a removal whose coming off waits for it, and while a removal is off whose going back
  /// waits for it.
  void respect(const StepGraph& graph, int step, int later, Arrows& followers,
               std::map<int, std::vector<int>>& uses) const {
    const Origin &from = graph.origins[step], &to = graph.origins[later];
    if (from.part != Part::work) return;
    const int job = place(jobs_, from.index);
    if (to.part == Part::work) return add_if_free(followers, job, place(jobs_, to.index));
    if (is_used(from.index, to.index)) return;
    if (to.part == Part::on && !reaches(graph.arrows, step, graph.off.at(to.index).end - 1)) {
      uses[from.index] = closure(needs_, [&] {
        std::vector<int> more = uses[from.index];
        more.push_back(to.index);
        return more;
      }());
    }
    if (to.part != Part::off) return;
    for (const int other : jobs_) {
      if (is_used(other, to.index)) add_if_free(followers, job, place(jobs_, other));
    }
  }

  std::vector<Event> in_build_indices(std::vector<Event> events) const {
    for (Event& event : events) event.index = (event.move == Move::work ? jobs_ : removals_)[event.index];
    return events;
  }

  const build::Build& build_;
  const std::vector<build::Date>& days_;
  Index index_;
  Arrows needs_, after_;
  std::vector<int> jobs_, removals_;
  std::map<int, std::vector<int>> uses_;
};

}  // namespace

const char* kind_text(StepKind kind) {
  switch (kind) {
    case StepKind::off:
      return "off";
    case StepKind::work:
      return "work";
    case StepKind::on:
      return "back on";
    case StepKind::tighten:
      return "tighten";
    case StepKind::lock:
      return "lock";
    case StepKind::check:
      break;
  }
  return "check";
}

std::vector<WorkStep> work_order(const build::Build& build, const std::vector<int>& jobs,
                                 const std::vector<int>& removals, const std::vector<build::Date>& days) {
  StepGraph graph;
  std::vector<WorkStep> order;
  std::vector<Origin> origins;
  for (const int step : Stage(build, sorted_once(jobs), removals, days).steps(graph)) {
    if (graph.steps[step].hidden) continue;
    order.push_back(graph.steps[step].shown);
    order.back().number = static_cast<int>(order.size());
    origins.push_back(graph.origins[step]);
  }
  share_time(build, origins, order);
  return order;
}

std::vector<int> closed_over_needs(const build::Build& build, const std::vector<int>& removals) {
  const Arrows needs = removal_needs(build, Index(build));
  const std::vector<int> wanted = closure(needs, removals);
  std::vector<int> order;
  for (const int r : in_order(reversed(needs))) {
    if (std::binary_search(wanted.begin(), wanted.end(), r)) order.push_back(r);
  }
  std::set<int> placed(order.begin(), order.end());
  for (const int r : wanted) {
    if (!placed.contains(r)) order.push_back(r);
  }
  return order;
}

}  // namespace fettlefund::graph
