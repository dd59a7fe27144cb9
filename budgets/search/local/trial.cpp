#include "budgets/search/local/trial.hpp"

#include <algorithm>

#include "budgets/problem/tools.hpp"

namespace fettlefund::budgets::search {
namespace {}  // namespace

Trial::Trial(const Model& model) : model_(model), amounts_(model.data().articles.size(), 0) {
  const ProblemData& data = model.data();
  const Bits no_removals(words_for(data.removals.size()), 0);
  const Bits no_tools(words_for(data.tools.size()), 0);
  for (const Unit& unit : model.units()) {
    Bits& opened = opened_by_.emplace_back(no_removals);
    Bits& tools = tools_of_.emplace_back(no_tools);
    for (int t : unit.tools) set_bit(tools.data(), t);
    for (int r : unit.removals) {
      set_bit(opened.data(), r);
      for (int t : data.removals[r].tools) set_bit(tools.data(), t);
    }
  }
  const auto stages = static_cast<std::size_t>(model.stage_count());
  at_.resize(stages);
  opened_.assign(stages, no_removals);
  used_.assign(stages, no_tools);
  paid_ = used_;
  bought_.assign(data.tools.size(), -1);
  moments_.resize(stages);
  kept_moments_ = moments_;
}

void Trial::keep() {
  kept_at_ = at_;
  kept_bought_ = bought_;
  kept_paid_ = paid_;
  for (std::size_t s = first_changed_; s < moments_.size(); ++s) kept_moments_[s] = moments_[s];
}

bool Trial::order_holds(const Placing& placing) const {
  std::vector<char> group_used(model_.group_count(), 0);
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (placing[u] < 0) continue;
    if (!model_.allowed(u, placing[u])) return false;
    const Unit& unit = model_.units()[u];
    for (int b : unit.before) {
      if (placing[b] < 0 || placing[b] > placing[u]) return false;
    }
    for (int g : unit.groups) {
      if (group_used[g]++) return false;
    }
  }
  return true;
}

/// Sorts the placing by stage and finds the first stage that differs from the kept one.
void Trial::gather(const Placing& placing) {
  const int stages = model_.stage_count();
  for (int s = 0; s < stages; ++s) {
    at_[s].clear();
    std::fill(opened_[s].begin(), opened_[s].end(), 0);
    std::fill(used_[s].begin(), used_[s].end(), 0);
  }
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (placing[u] < 0) continue;
    at_[placing[u]].push_back(u);
    unite(opened_[placing[u]], opened_by_[u]);
    unite(used_[placing[u]], tools_of_[u]);
    for (const int set : model_.units()[u].any_tools)
      set_bit(used_[placing[u]].data(), model_.usual_tool(set, placing[u]));
  }
  choose_tools();
  first_changed_ = 0;
  if (kept_at_.empty()) return;
  while (first_changed_ < stages && at_[first_changed_] == kept_at_[first_changed_] &&
         paid_[first_changed_] == kept_paid_[first_changed_]) {
    ++first_changed_;
  }
  first_changed_ = std::min(first_changed_, first_tool_change());
}

/// The first stage for which a tool is bought in one of the two placings but not in the other.
int Trial::first_tool_change() const {
  int first = model_.stage_count();
  for (std::size_t t = 0; t < bought_.size(); ++t) {
    if (bought_[t] == kept_bought_[t]) continue;
    for (int stage : {bought_[t], kept_bought_[t]}) {
      if (stage >= 0) first = std::min(first, stage);
    }
  }
  return first;
}

void Trial::choose_tools() {
  const int stages = model_.stage_count();
  for (Bits& paid : paid_) std::fill(paid.begin(), paid.end(), 0);
  for (int t = 0; t < static_cast<int>(bought_.size()); ++t) {
    const Tool& tool = model_.data().tools[t];
    bought_[t] = -1;
    std::int64_t to_hire = 0;
    int first = -1;
    for (int s = 0; s < stages; ++s) {
      if (!has_bit(used_[s].data(), t) || is_free(tool, s)) continue;
      set_bit(paid_[s].data(), t);
      if (tool.hire) to_hire += tool.hire->minor();
      if (first < 0 && !model_.buyer().tool_ways(t, s).empty()) first = s;
    }
    if (first < 0) continue;
    std::int64_t price = model_.buyer().tool_ways(t, first).front().price.minor();
    for (const Way& way : model_.buyer().tool_ways(t, first)) price = std::min(price, way.price.minor());
    if (tool.hire && to_hire < price) continue;
    bought_[t] = first;
    for (int s = first + 1; s < stages; ++s) paid_[s][t >> 6] &= ~(std::uint64_t{1} << (t & 63));
  }
}

void Trial::add_needs(const std::vector<Need>& needs) {
  for (const Need& need : needs) {
    if (amounts_[need.article] == 0) demand_.needs.push_back({need.article, 0});
    amounts_[need.article] += need.amount;
  }
}

void Trial::collect_needs(int stage) {
  demand_.needs.clear();
  demand_.tools.clear();
  for (int u : at_[stage]) add_needs(model_.units()[u].needs);
  for_each(opened_[stage], [&](int r) { add_needs(model_.data().removals[r].one_use); });
  std::sort(demand_.needs.begin(), demand_.needs.end(),
            [](const Need& a, const Need& b) { return a.article < b.article; });
  for (Need& need : demand_.needs) {
    need.amount = amounts_[need.article];
    amounts_[need.article] = 0;
  }
}

/// Whether the kept placing shops for the same things from the same stores.
bool Trial::shops_as_kept(int stage, const Stores& before) const {
  if (kept_at_.empty() || at_[stage] != kept_at_[stage] || paid_[stage] != kept_paid_[stage]) return false;
  bool same = true;
  for_each(paid_[stage], [&](int t) { same = same && (bought_[t] == stage) == (kept_bought_[t] == stage); });
  return same && stage > 0 && before == kept_moments_[stage - 1].stores;
}

bool Trial::shop(int stage, Moment& now) {
  if (shops_as_kept(stage, now.stores)) {
    now.stores = kept_moments_[stage].stores;
    now.charges = kept_moments_[stage].charges;
    return true;
  }
  ++work_;
  collect_needs(stage);
  for_each(paid_[stage], [&](int t) {
    if (bought_[t] == stage) demand_.tools.push_back(t);
  });
  model_.buyer().buy(stage, demand_, now.stores, receipt_);
  now.charges = receipt_.charges;
  return receipt_.missing.empty();
}

/// Buys and pays what the stage needs; false where something cannot be had.
bool Trial::pay(int stage, Moment& now) {
  const ProblemData& data = model_.data();
  bool possible = true;
  for_each(paid_[stage], [&](int t) {
    if (bought_[t] == stage) return;
    if (data.tools[t].hire) {
      now.bare[stage] += data.tools[t].hire->minor();
    } else {
      possible = false;
    }
  });
  if (!possible || !shop(stage, now)) return false;
  for (const PaydayCharge& charge : now.charges) {
    now.bare[charge.stage] += charge.goods.minor() + charge.delivery.minor();
  }
  return true;
}

bool Trial::within_caps(int last_final, const Moment& now) const {
  std::int64_t spent = 0;
  for (int s = 0; s <= last_final; ++s) {
    const Money bare = Money::of_minor(now.bare[s]);
    spent += now.bare[s] + percentage_rounded_up(bare, model_.data().allowance_bp).minor();
    if (spent > model_.caps()[s]) return false;
  }
  return true;
}

bool Trial::simulate(int stage) {
  const ProblemData& data = model_.data();
  Moment& now = moments_[stage];
  if (stage > 0) {
    now = stage > first_changed_ ? moments_[stage - 1] : kept_moments_[stage - 1];
  } else {
    now = {model_.buyer().opening_stores(),
           std::vector<std::int64_t>(data.stages.size(), 0),
           0,
           0,
           Bits(static_cast<std::size_t>(model_.words()), 0),
           Bits(static_cast<std::size_t>(model_.renewal_words()), 0),
           Bits(static_cast<std::size_t>(model_.free_words()), 0),
           {}};
  }
  std::int64_t minutes = 0;
  bool fit_changed = stage == 0;
  for (int u : at_[stage]) {
    const Unit& unit = model_.units()[u];
    minutes += unit.minutes;
    now.value += unit.worth[stage];
    now.bare[stage] += unit.cost;
    set_bit(now.done.data(), u);
    fit_changed = fit_changed || model_.matters_for_fit(u);
  }
  for_each(opened_[stage], [&](int r) {
    minutes += data.removals[r].minutes;
    now.value -= data.bother * data.removals[r].minutes;
    now.bare[stage] += data.removals[r].cost.minor();
  });
  if (!now.renewed.empty()) now.value -= model_.earned_twice(at_[stage], stage, now.renewed.data());
  now.minutes += minutes;
  if (minutes > data.stages[stage].minutes || !model_.keeps_days(at_[stage], stage)) return false;
  model_.change_free(now.here.data(), at_[stage]);
  if (fit_changed && !model_.fits(now.done.data(), now.here.data())) return false;
  if (!pay(stage, now)) return false;
  // Later stages can still order on paydays from first_payday on; what they add only takes more.
  return within_caps(stage, now);
}

bool Trial::keeps_rules(const Placing& placing) {
  if (!order_holds(placing)) return false;
  gather(placing);
  const int stages = model_.stage_count();
  for (int s = first_changed_; s < stages; ++s) {
    if (!simulate(s)) return false;
  }
  const Moment& end = first_changed_ < stages ? moments_[stages - 1] : kept_moments_[stages - 1];
  rank_ = {end.value, 0, end.minutes};
  for (std::int64_t bare : end.bare) {
    rank_.spent += bare + percentage_rounded_up(Money::of_minor(bare), model_.data().allowance_bp).minor();
  }
  return true;
}

}  // namespace fettlefund::budgets::search
