#include "lib/staging/fit.hpp"

#include <algorithm>
#include <set>

#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

bool done_by(const budgets::Schedule& schedule, int job, int stage) {
  const int at = schedule.stage_of[static_cast<std::size_t>(job)];
  return at >= 0 && at <= stage;
}

bool any_done(const budgets::Schedule& schedule, const std::vector<int>& jobs, int stage) {
  return std::any_of(jobs.begin(), jobs.end(), [&](int j) { return done_by(schedule, j, stage); });
}

bool present(const budgets::Schedule& schedule, const budgets::Carrier& carrier, int stage) {
  const int since =
      carrier.brought_by < 0 ? 0 : schedule.stage_of[static_cast<std::size_t>(carrier.brought_by)];
  const auto ends = [&](int j) {
    return schedule.stage_of[static_cast<std::size_t>(j)] >= since && done_by(schedule, j, stage);
  };
  return since >= 0 && since <= stage &&
         std::none_of(carrier.replaced_by.begin(), carrier.replaced_by.end(), ends);
}

/// The key on which two carriers disagree, or -1.
int disagreement(const budgets::Carrier& a, const budgets::Carrier& b) {
  for (const budgets::Carrier::Mate& one : a.mates) {
    for (const budgets::Carrier::Mate& other : b.mates) {
      if (one.key == other.key && one.value != other.value) return one.key;
    }
  }
  return -1;
}

}  // namespace

Fit::Fit(const build::Build& build) : build_(build), machine_(machine_of(build)) {
  name_carriers();
  find_disagreements();
  find_clashes();
}

/// As machine_of makes them: fitted things, then jobs, where they have mates or clash.
void Fit::name_carriers() {
  std::set<build::Id> clashing;
  for (const build::Clash& clash : build_.clashes) clashing.insert({clash.a, clash.b});
  const auto add = [&](const build::Id& id, const std::string& name, const build::Mates& mates) {
    if (mates.empty() && !clashing.count(id)) return;
    ids_.push_back(id);
    names_.push_back(name);
  };
  for (const build::Fitted& fitted : build_.fitted) add(fitted.id, fitted.name, fitted.mates);
  for (const build::Job& job : build_.jobs) add(job.id, job.name, mates_of(build_, job));
}

std::string Fit::told(int carrier, int key) const {
  const std::string& name = names_[static_cast<std::size_t>(carrier)];
  for (const budgets::Carrier::Mate& mate : machine_.carriers[static_cast<std::size_t>(carrier)].mates) {
    if (mate.key != key) continue;
    return name + " (" + machine_.keys[static_cast<std::size_t>(key)] + " " +
           machine_.values[static_cast<std::size_t>(key)][static_cast<std::size_t>(mate.value)] + ")";
  }
  return name;
}

void Fit::find_disagreements() {
  const int count = static_cast<int>(machine_.carriers.size());
  for (int a = 0; a < count; ++a) {
    for (int b = a + 1; b < count; ++b) {
      const int key = disagreement(machine_.carriers[static_cast<std::size_t>(a)],
                                   machine_.carriers[static_cast<std::size_t>(b)]);
      if (key >= 0) misfits_.push_back({a, b, key, -1});
    }
  }
}

void Fit::find_clashes() {
  const auto find = [&](const build::Id& id) {
    return static_cast<int>(std::find(ids_.begin(), ids_.end(), id) - ids_.begin());
  };
  for (std::size_t c = 0; c < build_.clashes.size(); ++c) {
    const int a = find(build_.clashes[c].a), b = find(build_.clashes[c].b);
    if (a != b) misfits_.push_back({a, b, -1, static_cast<int>(c)});
  }
}

std::string Fit::words(const Misfit& misfit) const {
  return told(misfit.a, misfit.key) + " and " + told(misfit.b, misfit.key);
}

std::string Fit::why(const Misfit& misfit) const {
  return misfit.clash < 0 ? "" : build_.clashes[static_cast<std::size_t>(misfit.clash)].why;
}

std::vector<int> Fit::adapts(const Misfit& misfit) const {
  if (misfit.clash < 0) return {};
  return IdTable(build_.jobs).find_all(build_.clashes[static_cast<std::size_t>(misfit.clash)].unless);
}

std::optional<Misfit> Fit::first_misfit(const budgets::Schedule& schedule, int stage) const {
  const auto there = [&](int carrier) {
    return present(schedule, machine_.carriers[static_cast<std::size_t>(carrier)], stage);
  };
  for (const Misfit& misfit : misfits_) {
    if (there(misfit.a) && there(misfit.b) && !any_done(schedule, adapts(misfit), stage)) return misfit;
  }
  return std::nullopt;
}

}  // namespace fettlefund::planning
