#include "budgets/search/model.hpp"

#include <algorithm>
#include <map>

#include "budgets/costing/basket_ways.hpp"
#include "budgets/problem/tools.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

void append(std::vector<int>& to, const std::vector<int>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

void add_up(std::vector<Need>& needs) {
  std::stable_sort(needs.begin(), needs.end(),
                   [](const Need& a, const Need& b) { return a.article < b.article; });
  std::vector<Need> sum;
  for (const Need& need : needs) {
    if (!sum.empty() && sum.back().article == need.article) {
      sum.back().amount += need.amount;
    } else {
      sum.push_back(need);
    }
  }
  needs = std::move(sum);
}

std::vector<int> units_of(const std::vector<int>& jobs, const std::vector<int>& unit_of) {
  std::vector<int> units;
  for (int j : jobs) units.push_back(unit_of[j]);
  sort_unique(units);
  return units;
}

}  // namespace

Model::Model(const Problem& problem)
    : problem_(problem), buyer_(problem), caps_(spending_caps(problem.data())) {
  const std::vector<int> unit_of = number_components(required_jobs(data()));
  make_units(unit_of);
  link_units(unit_of);
  narrow_windows();
  find_days();
  find_allowed();
  find_conflicts(unit_of);
  find_free();
  find_contradictions();
}

void Model::make_units(const std::vector<int>& unit_of) {
  int count = 0;
  for (int u : unit_of) count = std::max(count, u + 1);
  units_.resize(count);
  for (Unit& unit : units_) {
    unit.last = stage_count() - 1;
    unit.worth.assign(stage_count(), 0);
  }
  for (int j = 0; j < problem_.job_count(); ++j) add_job(units_[unit_of[j]], j);
  for (Unit& unit : units_) {
    sort_unique(unit.removals);
    sort_unique(unit.tools);
    add_up(unit.needs);
  }
  add_renewals(unit_of);
  add_any_tools();
}

void Model::add_any_tools() {
  std::map<std::vector<int>, int> numbers;
  for (Unit& unit : units_) {
    for (const std::vector<int>& set : tool_needs(data(), unit.jobs, unit.removals).any) {
      const auto [place, fresh] = numbers.emplace(set, static_cast<int>(any_tools_.size()));
      if (fresh) any_tools_.push_back(set);
      unit.any_tools.push_back(place->second);
    }
    std::sort(unit.any_tools.begin(), unit.any_tools.end());
  }
  const std::vector<int> usual = usual_tools(data(), any_tools_);
  for (std::size_t i = 0; i < any_tools_.size(); ++i) {
    const std::vector<int>& set = any_tools_[i];
    for (int t = 0; t < stage_count(); ++t) {
      const auto free =
          std::find_if(set.begin(), set.end(), [&](int k) { return is_free(data().tools[k], t); });
      usual_.push_back(free != set.end() ? *free : usual[i]);
    }
  }
}

/// Of jobs in one unit the one that earns most counts.
void Model::add_renewals(const std::vector<int>& unit_of) {
  for (int r = 0; r < static_cast<int>(data().renewals.size()); ++r) {
    const Renewal& renewal = data().renewals[r];
    for (std::size_t i = 0; i < renewal.jobs.size(); ++i) {
      auto& renewed = units_[unit_of[renewal.jobs[i]]].renewed;
      if (renewed.empty() || renewed.back().renewal != r)
        renewed.push_back({r, std::vector<std::int64_t>(data().stages.size(), 0)});
      std::vector<std::int64_t>& worth = renewed.back().worth;
      for (std::size_t t = 0; t < worth.size(); ++t) worth[t] = std::max(worth[t], renewal.worth[i][t]);
    }
  }
  for (Unit& unit : units_) {
    for (const Unit::Renewed& renewed : unit.renewed) {
      for (int t = 0; t < stage_count(); ++t) unit.worth[t] += renewed.worth[t];
    }
  }
}

void Model::add_job(Unit& unit, int job) {
  const Job& from = data().jobs[job];
  unit.jobs.push_back(job);
  unit.cost += from.cost.minor();
  unit.minutes += from.minutes;
  unit.must |= from.must;
  unit.first = std::max(unit.first, from.earliest);
  unit.last = std::min(unit.last, problem_.latest(job));
  for (int t = 0; t < stage_count(); ++t) unit.worth[t] += from.worth[t];
  append(unit.removals, problem_.opened_by(job));
  append(unit.tools, from.tools);
  unit.needs.insert(unit.needs.end(), from.needs.begin(), from.needs.end());
}

void Model::link_units(const std::vector<int>& unit_of) {
  const auto required = required_jobs(data());
  for (int j = 0; j < problem_.job_count(); ++j) {
    for (int other : required[j]) {
      if (unit_of[other] != unit_of[j]) units_[unit_of[j]].before.push_back(unit_of[other]);
    }
  }
  for (Unit& unit : units_) sort_unique(unit.before);
  for (int g = 0; g < group_count(); ++g) {
    std::vector<int> jobs = data().one_of[g];
    sort_unique(jobs);
    for (int j : jobs) {
      Unit& unit = units_[unit_of[j]];
      // Two jobs of one group in one unit exclude each other: the unit can never be done.
      if (!unit.groups.empty() && unit.groups.back() == g) unit.last = -1;
      if (unit.groups.empty() || unit.groups.back() != g) unit.groups.push_back(g);
    }
  }
}

void Model::find_days() {
  for (const Stage& stage : data().stages) {
    has_days_.push_back(std::any_of(data().jobs.begin(), data().jobs.end(), [&](const Job& job) {
      return job.by && *job.by >= stage.bench && *job.by < stage.last_day();
    }));
  }
}

std::int64_t Model::find_late(const std::vector<int>& units, int stage) const {
  std::vector<int> jobs;
  for (const int u : units) append(jobs, units_[u].jobs);
  const auto late = overdue_in(problem_, stage, jobs);
  return late ? late->minutes - late->room : 0;
}

void Model::find_conflicts(const std::vector<int>& unit_of) {
  const auto& carriers = data().carriers;
  fit_unit_.assign(units_.size(), 0);
  adapter_.assign(units_.size(), 0);
  for (const Carrier& carrier : carriers) {
    brought_by_.push_back(carrier.brought_by < 0 ? -1 : unit_of[carrier.brought_by]);
    replaced_by_.push_back(units_of(carrier.replaced_by, unit_of));
    if (brought_by_.back() >= 0) fit_unit_[brought_by_.back()] = 1;
    for (int u : replaced_by_.back()) fit_unit_[u] = 1;
  }
  const auto differ = [&](const Carrier& a, const Carrier& b) {
    for (const auto& x : a.mates) {
      for (const auto& y : b.mates) {
        if (x.key == y.key && x.value != y.value) return true;
      }
    }
    return false;
  };
  for (int a = 0; a < static_cast<int>(carriers.size()); ++a) {
    for (int b = a; b < static_cast<int>(carriers.size()); ++b) {
      if (differ(carriers[a], carriers[b])) conflicts_.push_back({a, b, {}});
    }
  }
  for (const Clash& clash : data().clashes) {
    conflicts_.push_back({clash.a, clash.b, units_of(clash.adapted_by, unit_of)});
    for (int u : conflicts_.back().adapted_by) adapter_[u] = 1;
  }
}

/// On the machine at the end of every plan that does its musts.
bool Model::sure_to_stay(int carrier) const {
  const int by = brought_by_[carrier];
  return (by < 0 || units_[by].must) && replaced_by_[carrier].empty();
}

void Model::find_contradictions() {
  std::vector<int> musts_of_group(group_count(), 0);
  for (const Unit& unit : units_) {
    if (!unit.must) continue;
    for (int g : unit.groups) hopeless_ |= ++musts_of_group[g] > 1;
  }
  for (const Conflict& conflict : conflicts_) {
    hopeless_ |= conflict.adapted_by.empty() &&
                 (brought_by_[conflict.a] >= 0 || brought_by_[conflict.b] >= 0) && sure_to_stay(conflict.a) &&
                 sure_to_stay(conflict.b);
  }
}

/// Where what takes a carrier off requires what brings it, it comes in the same stage or later.
void Model::find_free() {
  for (std::size_t c = 0; c < brought_by_.size(); ++c) {
    const int by = brought_by_[c];
    const auto later = [&](int u) { return by < 0 || u == by || requires_unit(u, by); };
    const bool fixed = std::all_of(replaced_by_[c].begin(), replaced_by_[c].end(), later);
    free_at_.push_back(fixed ? -1 : free_count());
    if (!fixed) free_.push_back(static_cast<int>(c));
  }
}

/// Directly or through others.
bool Model::requires_unit(int unit, int other) const {
  std::vector<char> seen(units_.size(), 0);
  std::vector<int> open{unit};
  while (!open.empty()) {
    const int u = open.back();
    open.pop_back();
    for (const int b : units_[u].before) {
      if (b == other) return true;
      if (!seen[b]) open.push_back(b);
      seen[b] = 1;
    }
  }
  return false;
}

std::int64_t Model::earned_twice(const std::vector<int>& units, int stage, std::uint64_t* renewed) const {
  std::map<int, std::int64_t> most;  // of the renewals that are new
  std::int64_t twice = 0;
  for (const int u : units) {
    for (const Unit::Renewed& one : units_[u].renewed) {
      twice += one.worth[stage];
      if (has_bit(renewed, one.renewal)) continue;
      std::int64_t& worth = most[one.renewal];
      worth = std::max(worth, one.worth[stage]);
    }
  }
  for (const auto& [renewal, worth] : most) {
    twice -= worth;
    set_bit(renewed, renewal);
  }
  return twice;
}

void Model::change_free(std::uint64_t* here, const std::vector<int>& units) const {
  const auto among = [&](int u) { return std::find(units.begin(), units.end(), u) != units.end(); };
  for (int i = 0; i < free_count(); ++i) {
    const std::vector<int>& ends = replaced_by_[free_[i]];
    const bool came = has_bit(here, i) || among(brought_by_[free_[i]]);
    const bool stays = came && std::none_of(ends.begin(), ends.end(), among);
    if (stays != has_bit(here, i)) flip_bit(here, i);
  }
}

bool Model::present(int carrier, const std::uint64_t* done, const std::uint64_t* here) const {
  if (free_at_[carrier] >= 0) return has_bit(here, free_at_[carrier]);
  if (brought_by_[carrier] >= 0 && !has_bit(done, brought_by_[carrier])) return false;
  for (int u : replaced_by_[carrier]) {
    if (has_bit(done, u)) return false;
  }
  return true;
}

bool Model::fits(const std::uint64_t* done, const std::uint64_t* here) const {
  int last = -1;  // conflicts are mostly listed by their first carrier
  bool there = false;
  for (const Conflict& conflict : conflicts_) {
    if (conflict.a != last) there = present(conflict.a, done, here);
    last = conflict.a;
    if (!there || !present(conflict.b, done, here)) continue;
    const auto adapts = [&](int u) { return has_bit(done, u); };
    if (!std::any_of(conflict.adapted_by.begin(), conflict.adapted_by.end(), adapts)) return false;
  }
  return true;
}

}  // namespace fettlefund::budgets::search
