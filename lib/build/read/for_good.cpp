#include "lib/build/read/for_good.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "budgets/values/lists.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

using Stands = std::map<Id, std::vector<Id>>;  ///< removal -> those that stand in for it

template <class Entry>
std::map<Id, std::size_t> places_of(const std::vector<Entry>& entries) {
  std::map<Id, std::size_t> places;
  for (std::size_t i = 0; i < entries.size(); ++i) places.emplace(entries[i].id, i);
  return places;
}

void add_once(std::vector<Id>& ids, const Id& id) {
  if (!budgets::contains(ids, id)) ids.push_back(id);
}

class Settler {
 public:
  explicit Settler(Build& build)
      : build_(build), jobs_(places_of(build.jobs)), removals_(places_of(build.removals)) {
    for (const Removal& removal : build.removals) taken_ids_.insert(removal.id);
  }

  std::vector<Doubt> settle() {
    std::vector<Stands> stands;
    for (Job& job : build_.jobs)
      for (const Id& removal : job.takes_off) add_once(job.removals, removal);
    for (const Job& job : build_.jobs) stands.push_back(stands_for(job));
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      if (stands[j].empty()) continue;
      build_.jobs[j].removals = changed(build_.jobs[j].removals, stands[j]);
    }
    for (Fitted& fitted : build_.fitted) lay_open(fitted);
    silence_alike();
    return std::move(doubts_);
  }

 private:
  /// All jobs that `job` comes after.
  const std::set<Id>& before(const Id& job) {
    const auto known = before_.find(job);
    if (known != before_.end()) return known->second;
    std::set<Id> all;
    std::vector<Id> open = at(job).after;
    while (!open.empty()) {
      const Id next = open.back();
      open.pop_back();
      if (!all.insert(next).second) continue;
      open.insert(open.end(), at(next).after.begin(), at(next).after.end());
    }
    return before_[job] = std::move(all);
  }

  const Job& at(const Id& job) const { return build_.jobs[jobs_.at(job)]; }

  std::set<Id> closure(const std::vector<Id>& removals) const {
    std::set<Id> all;
    std::vector<Id> open = removals;
    while (!open.empty()) {
      const Id next = open.back();
      open.pop_back();
      const auto place = removals_.find(next);
      if (place == removals_.end() || !all.insert(next).second) continue;
      const auto& needs = build_.removals[place->second].needs;
      open.insert(open.end(), needs.begin(), needs.end());
    }
    return all;
  }

  static bool together(const Job& a, const Job& b) {
    return budgets::contains(a.together_with, b.id) || budgets::contains(b.together_with, a.id);
  }

  Stands stands_for(const Job& job) {
    Stands stands;
    std::set<Id> used = closure(job.removals);
    for (std::size_t count = 0; count != used.size();) {
      count = used.size();
      for (const Job& taker : build_.jobs) look_at(taker, job, used, stands);
    }
    return stands;
  }

  void look_at(const Job& taker, const Job& job, std::set<Id>& used, Stands& stands) {
    for (const Id& removal : taker.takes_off) {
      if (!used.contains(removal) || stands.contains(removal)) continue;
      if (&taker == &job || together(taker, job)) {
        stands[removal] = {for_good(removal)};
      } else if (before(job.id).contains(taker.id)) {
        stands[removal] = taker.puts_on;
        used.merge(closure(taker.puts_on));
      } else if (!before(taker.id).contains(job.id)) {
        doubt(job, taker, removal);
      }
    }
  }

  void doubt(const Job& job, const Job& taker, const Id& removal) {
    if (!job.one_of.empty() && job.one_of == taker.one_of) return;
    if (!told_.insert({job.id, taker.id}).second) return;
    doubts_.push_back({job.id, fmt::format("\"after\" or \"with\" between this job and \"{}\", which takes "
                                           "\"{}\" off for good: this one uses it, too",
                                           taker.id, removal)});
  }

  Id fresh_id(const std::string& wanted) {
    Id id = wanted;
    for (int n = 2; !taken_ids_.insert(id).second; ++n) id = fmt::format("{}-{}", wanted, n);
    return id;
  }

  Id add(Removal removal) {
    const Id id = removal.id;
    removal.added = true;
    removals_.emplace(id, build_.removals.size());
    build_.removals.push_back(std::move(removal));
    return id;
  }

  Id for_good(const Id& id) {
    const auto known = for_good_.find(id);
    if (known != for_good_.end()) return known->second;
    Removal gone = build_.removals[removals_.at(id)];
    gone.id = fresh_id(id + "-for-good");
    gone.stands_for = id;
    gone.for_good = true;
    gone.minutes_on = 0;
    gone.one_use.clear();
    gone.torques.clear();
    gone.checks.clear();
    gone.on.clear();
    return for_good_[id] = add(std::move(gone));
  }

  std::vector<Id> changed(const std::vector<Id>& removals, const Stands& stands) {
    std::vector<Id> result;
    for (const Id& id : removals) {
      const auto found = stands.find(id);
      if (found == stands.end()) {
        add_once(result, copy_of(id, stands));
      } else {
        Stands others = stands;
        others.erase(id);
        for (const Id& other : changed(found->second, others)) add_once(result, other);
      }
    }
    return result;
  }

  /// The removal itself where it needs nothing that is gone, else a copy with other needs.
  Id copy_of(const Id& id, const Stands& stands) {
    const std::set<Id> needed = closure(build_.removals[removals_.at(id)].needs);
    Stands own;
    for (const auto& [gone, others] : stands)
      if (needed.contains(gone) && gone != id) own.emplace(gone, others);
    if (own.empty() || needed.contains(id)) return id;
    const auto known = copies_.find({id, own});
    if (known != copies_.end()) return known->second;
    Removal copy = build_.removals[removals_.at(id)];
    copy.needs = changed(copy.needs, own);
    copy.id = fresh_id(id + "-then");
    const bool gone = std::all_of(own.begin(), own.end(), [&](const auto& one) { return stays_off(one); });
    copy.stands_for = gone ? id : Id();
    return copies_[{id, own}] = add(std::move(copy));
  }

  bool stays_off(const Stands::value_type& stand) const {
    const auto gone = for_good_.find(stand.first);
    return gone != for_good_.end() && stand.second == std::vector<Id>{gone->second};
  }

  /// What a removal lays open lies open, too, when it comes off for good.
  void lay_open(Fitted& fitted) {
    const std::vector<Id> reached_by = fitted.reached_by;
    for (const Id& removal : reached_by) {
      const auto gone = for_good_.find(removal);
      if (gone != for_good_.end()) add_once(fitted.reached_by, gone->second);
      for (const auto& [key, copy] : copies_)
        if (key.first == removal) add_once(fitted.reached_by, copy);
    }
  }

  /// What is silenced for a removal is silenced for its copies.
  void silence_alike() {
    for (const auto& [key, copy] : copies_) {
      const std::vector<Silence> silences = build_.silences;
      for (Silence silence : silences) {
        if (silence.only_for != key.first) continue;
        silence.only_for = copy;
        build_.silences.push_back(std::move(silence));
      }
    }
  }

  Build& build_;
  std::map<Id, std::size_t> jobs_, removals_;
  std::set<Id> taken_ids_;
  std::map<Id, std::set<Id>> before_;
  std::map<Id, Id> for_good_;
  std::map<std::pair<Id, Stands>, Id> copies_;
  std::set<std::pair<Id, Id>> told_;
  std::vector<Doubt> doubts_;
};

bool sound(const Build& build) {
  const auto jobs = places_of(build.jobs);
  const auto removals = places_of(build.removals);
  for (const Job& job : build.jobs) {
    for (const auto* list : {&job.after, &job.together_with})
      for (const Id& id : *list)
        if (!jobs.contains(id)) return false;
    for (const auto* list : {&job.removals, &job.takes_off, &job.puts_on})
      for (const Id& id : *list)
        if (!removals.contains(id)) return false;
  }
  return true;
}

}  // namespace

std::vector<Doubt> settle_for_good(Build& build) {
  const bool any = std::any_of(build.jobs.begin(), build.jobs.end(),
                               [](const Job& job) { return !job.takes_off.empty(); });
  if (!any || !sound(build)) return {};
  return Settler(build).settle();
}

}  // namespace fettlefund::build
