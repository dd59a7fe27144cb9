#include "budgets/search/reduced.hpp"

#include <algorithm>
#include <utility>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {
namespace {

class Reducer {
 public:
  Reducer(const ProblemData& data, const std::vector<int>& musts)
      : data_(data), required_(required_jobs(data)), kept_(data.jobs.size(), 0) {
    add(musts);
  }

  Reduced reduce() {
    while (!open_.empty() || part_misfits()) {
      const int j = open_.back();
      open_.pop_back();
      add(required_[j]);
    }
    number();
    Reduced reduced{data_, jobs_};
    take_jobs(reduced.data);
    take_groups(reduced.data);
    take_renewals(reduced.data);
    take_machine(reduced.data);
    return reduced;
  }

 private:
  void add(const std::vector<int>& jobs) {
    for (const int j : jobs) {
      if (kept_[j]) continue;
      kept_[j] = 1;
      open_.push_back(j);
    }
  }

  bool may_be_there(const Carrier& carrier) const {
    return carrier.brought_by < 0 || kept_[carrier.brought_by];
  }

  static bool differ(const Carrier& a, const Carrier& b) {
    for (const Carrier::Mate& x : a.mates) {
      for (const Carrier::Mate& y : b.mates) {
        if (x.key == y.key && x.value != y.value) return true;
      }
    }
    return false;
  }

  /// Adds the jobs that part or adapt what may meet and does not fit; whether any was new.
  bool part_misfits() {
    const std::vector<Carrier>& carriers = data_.carriers;
    for (std::size_t a = 0; a < carriers.size(); ++a) {
      for (std::size_t b = a; b < carriers.size(); ++b) {
        if (differ(carriers[a], carriers[b])) part(carriers[a], carriers[b], {});
      }
    }
    for (const Clash& clash : data_.clashes) part(carriers[clash.a], carriers[clash.b], clash.adapted_by);
    return !open_.empty();
  }

  void part(const Carrier& a, const Carrier& b, const std::vector<int>& adapted_by) {
    if (!may_be_there(a) || !may_be_there(b)) return;
    add(a.replaced_by);
    add(b.replaced_by);
    add(adapted_by);
  }

  void number() {
    number_.assign(kept_.size(), -1);
    for (int j = 0; j < static_cast<int>(kept_.size()); ++j) {
      if (!kept_[j]) continue;
      number_[j] = static_cast<int>(jobs_.size());
      jobs_.push_back(j);
    }
  }

  /// Those that are kept, by their new numbers.
  std::vector<int> renumbered(const std::vector<int>& jobs) const {
    std::vector<int> now;
    for (const int j : jobs) {
      if (number_[j] >= 0) now.push_back(number_[j]);
    }
    return now;
  }

  void take_jobs(ProblemData& to) const {
    to.jobs.clear();
    for (const int j : jobs_) {
      to.jobs.push_back(data_.jobs[j]);
      to.jobs.back().after = renumbered(data_.jobs[j].after);
    }
  }

  void take_groups(ProblemData& to) const {
    for (auto* groups : {&to.one_of, &to.together}) {
      for (std::vector<int>& group : *groups) group = renumbered(group);
      std::erase_if(*groups, [](const std::vector<int>& group) { return group.empty(); });
    }
  }

  void take_renewals(ProblemData& to) const {
    for (Renewal& renewal : to.renewals) {
      const Renewal from = std::exchange(renewal, {});
      for (std::size_t i = 0; i < from.jobs.size(); ++i) {
        if (number_[from.jobs[i]] < 0) continue;
        renewal.jobs.push_back(number_[from.jobs[i]]);
        renewal.worth.push_back(from.worth[i]);
      }
    }
  }

  void take_machine(ProblemData& to) const {
    std::vector<int> carrier_now(data_.carriers.size(), -1);
    to.carriers.clear();
    to.clashes.clear();
    for (std::size_t c = 0; c < data_.carriers.size(); ++c) {
      const Carrier& from = data_.carriers[c];
      if (!may_be_there(from)) continue;
      carrier_now[c] = static_cast<int>(to.carriers.size());
      to.carriers.push_back(from);
      if (from.brought_by >= 0) to.carriers.back().brought_by = number_[from.brought_by];
      to.carriers.back().replaced_by = renumbered(from.replaced_by);
    }
    for (const Clash& clash : data_.clashes) {
      if (carrier_now[clash.a] < 0 || carrier_now[clash.b] < 0) continue;
      to.clashes.push_back({carrier_now[clash.a], carrier_now[clash.b], renumbered(clash.adapted_by)});
    }
  }

  const ProblemData& data_;
  std::vector<std::vector<int>> required_;
  std::vector<char> kept_;
  std::vector<int> open_, jobs_, number_;
};

}  // namespace

Reduced reduce(const ProblemData& data, const std::vector<int>& musts) {
  return Reducer(data, musts).reduce();
}

Schedule widen(const Reduced& reduced, const ProblemData& whole, const Schedule& schedule) {
  Schedule wide;
  wide.stage_of.assign(whole.jobs.size(), -1);
  wide.tool_bought = schedule.tool_bought;
  for (std::size_t i = 0; i < reduced.jobs.size(); ++i) wide.stage_of[reduced.jobs[i]] = schedule.stage_of[i];
  return wide;
}

}  // namespace fettlefund::budgets::search
