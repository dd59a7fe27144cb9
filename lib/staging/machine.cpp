#include "lib/staging/machine.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "lib/drive/links.hpp"
#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

/// Gives words numbers in the order in which they are first met.
int number_of(std::vector<std::string>& words, const std::string& word) {
  const auto found = std::find(words.begin(), words.end(), word);
  if (found != words.end()) return static_cast<int>(found - words.begin());
  words.push_back(word);
  return static_cast<int>(words.size()) - 1;
}

class MachineMaker {
 public:
  explicit MachineMaker(const build::Build& build) : build_(build), jobs_(build.jobs) {
    for (const build::Clash& clash : build.clashes) in_clash_.insert({clash.a, clash.b});
  }

  Machine make() {
    for (const int f : by_id(build_.fitted)) {
      const build::Fitted& fitted = build_.fitted[static_cast<std::size_t>(f)];
      add(fitted.id, -1, fitted.mates, fitted.replaced_by);
    }
    for (const int j : by_id(build_.jobs)) {
      const build::Job& job = build_.jobs[static_cast<std::size_t>(j)];
      add(job.id, j, mates_of(build_, job), job.replaced_by);
    }
    for (const build::Clash& clash : build_.clashes) add(clash);
    return std::move(machine_);
  }

 private:
  void add(const build::Id& id, int brought_by, const build::Mates& mates,
           const std::vector<build::Id>& replaced_by) {
    if (mates.empty() && !in_clash_.count(id)) return;
    carrier_of_.emplace(id, static_cast<int>(machine_.carriers.size()));
    budgets::Carrier& carrier = machine_.carriers.emplace_back();
    carrier.brought_by = brought_by;
    carrier.replaced_by = brought_by < 0 ? jobs_.find_all(replaced_by) : taken_off_by(build_, brought_by);
    for (const auto& [key, value] : mates) carrier.mates.push_back(mate(key, value));
  }

  budgets::Carrier::Mate mate(const std::string& key, const std::string& value) {
    const int k = number_of(machine_.keys, key);
    machine_.values.resize(machine_.keys.size());
    return {k, number_of(machine_.values[static_cast<std::size_t>(k)], value)};
  }

  void add(const build::Clash& clash) {
    const auto a = carrier_of_.find(clash.a), b = carrier_of_.find(clash.b);
    if (a == carrier_of_.end() || b == carrier_of_.end() || a == b) return;
    machine_.clashes.push_back({a->second, b->second, jobs_.find_all(clash.unless)});
  }

  const build::Build& build_;
  IdTable jobs_;
  std::set<build::Id> in_clash_;
  std::map<build::Id, int> carrier_of_;
  Machine machine_;
};

/// All that `after` has done before the job, directly or through others.
std::set<int> all_before(const build::Build& build, const IdTable& jobs, int job) {
  std::set<int> before;
  std::vector<int> open{job};
  while (!open.empty()) {
    const int next = open.back();
    open.pop_back();
    for (const int earlier : jobs.find_all(build.jobs[static_cast<std::size_t>(next)].after)) {
      if (before.insert(earlier).second) open.push_back(earlier);
    }
  }
  return before;
}

}  // namespace

std::vector<int> taken_off_by(const build::Build& build, int job) {
  const std::vector<build::Id>& ids = build.jobs[static_cast<std::size_t>(job)].replaced_by;
  if (ids.empty()) return {};
  const IdTable jobs(build.jobs);
  const std::set<int> before = all_before(build, jobs, job);
  std::vector<int> found = jobs.find_all(ids);
  std::erase_if(found, [&](int j) { return before.count(j) > 0; });
  return found;
}

build::Mates mates_of(const build::Build& build, const build::Job& job) {
  build::Mates mates = job.mates;
  for (const build::Use& use : uses_of(build, job)) {
    const int article = find_id(build.articles, use.article);
    if (article < 0) continue;
    const build::Mates& own = build.articles[static_cast<std::size_t>(article)].mates;
    mates.insert(own.begin(), own.end());
  }
  return mates;
}

Machine machine_of(const build::Build& build) { return MachineMaker(build).make(); }

}  // namespace fettlefund::planning
