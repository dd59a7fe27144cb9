#include "budgets/search/bound/completion.hpp"

#include <algorithm>

#include "budgets/search/bound/kernel.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t list_levels = 1200;
/// Every unit's cost is rounded for itself by the knapsack: the more units, the finer the axis has to be.
std::int64_t coarse_levels(int units) { return std::max<std::int64_t>(1000, 15 * units); }
std::int64_t fine_levels(int units) { return std::max<std::int64_t>(5000, 200 * units); }

int shift_for(std::int64_t cap, std::int64_t levels) {
  int shift = 0;
  while ((cap >> shift) > levels) ++shift;
  return shift;
}

std::int64_t last_cap(const std::vector<std::int64_t>& caps) {
  return caps.empty() ? 0 : std::max<std::int64_t>(caps.back(), 0);
}

/// Whether every stage has the time to do everything at once: then nothing is gained by listing sets.
bool time_never_binds(const Relaxed& relaxed) {
  std::int64_t all = 0;
  for (std::int64_t m : relaxed.minutes) all += m;
  for (const Charge& charge : relaxed.charges) all += charge.minutes;
  const auto& stages = relaxed.model->data().stages;
  return std::all_of(stages.begin(), stages.end(), [&](const Stage& s) { return s.minutes >= all; });
}

}  // namespace

Completion::Completion(const Relaxed& relaxed, const Scale& scale, std::int32_t list_limit)
    : relaxed_(relaxed),
      caps_(relaxed.caps),
      list_shift_(shift_for(last_cap(relaxed.caps), list_levels)),
      list_(relaxed, scale, list_shift_, time_never_binds(relaxed) ? 0 : list_limit),
      tables_(relaxed.stages + 1),
      after_extras_(relaxed.stages),
      extras_(relaxed.stages),
      frontiers_(relaxed.stages) {
  shift_ = list_shift_;
  if (list_.complete()) return;
  knapsack_ = std::make_unique<StageKnapsack>(relaxed, scale);
  fine_shift_ = shift_for(last_cap(caps_), fine_levels(relaxed.units));
  coarse_shift_ = shift_for(last_cap(caps_), coarse_levels(relaxed.units));
}

void Completion::set_caps(const std::vector<std::int64_t>& caps) { caps_ = caps; }

void Completion::fill(const Prices& prices, int from, Sweep sweep, bool fine) {
  if (knapsack_) shift_ = fine ? fine_shift_ : coarse_shift_;
  sweep_ = sweep;
  fill_cost_ = 0;
  tables_[relaxed_.stages].assign((last_cap(caps_) >> shift_) + 1, 0);
  for (int t = relaxed_.stages - 1; t >= from; --t) {
    apply_extras(t, prices);
    if (knapsack_) {
      extend_by_knapsack(t, prices);
    } else {
      extend_by_list(t, prices);
    }
  }
}

/// Any set of tools may be bought, and any set of shared charges opened, in any stage.
void Completion::apply_extras(int stage, const Prices& prices) {
  const auto size = static_cast<std::int32_t>((std::max<std::int64_t>(caps_[stage], 0) >> shift_) + 1);
  auto& table = after_extras_[stage];
  table.assign(tables_[stage + 1].begin(), tables_[stage + 1].begin() + size);
  extras_[stage].clear();
  price_money(stage, prices);
  for (int k = 0; k < relaxed_.tools(); ++k) {
    apply_extra(stage, {k, -1, -1, 0, {}}, prices.tool_profit[stage * relaxed_.tools() + k],
                relaxed_.tool_cost[k], prices);
  }
  const int charges = prices.charge_profit.empty() ? 0 : static_cast<int>(relaxed_.charges.size());
  for (int e = 0; e < charges; ++e) {
    apply_extra(stage, {-1, e, -1, 0, {}}, prices.charge_profit[stage * charges + e],
                relaxed_.charges[e].cost, prices);
  }
  const int suppliers = prices.order_profit.empty() ? 0 : relaxed_.ordering.suppliers();
  for (int s = 0; s < suppliers; ++s) {
    apply_extra(stage, {-1, -1, s, 0, {}}, prices.order_profit[stage * suppliers + s],
                relaxed_.ordering.fee[s], prices);
  }
}

/// What has truly been paid up to a payday is at most its cap: that is priced beside the axis. Here as much
/// is counted as paid as a level says; what costs more than its level pays for the rest itself.
void Completion::price_money(int stage, const Prices& prices) {
  const std::int64_t price = prices.money_price[stage];
  if (price == 0) return;
  auto& table = after_extras_[stage];
  const std::int64_t cap = std::max<std::int64_t>(caps_[stage], 0);
  constexpr std::int64_t part = (std::int64_t{1} << money_bits) - 1;
  for (std::int64_t l = 0; l < static_cast<std::int64_t>(table.size()); ++l)
    table[l] += static_cast<std::int32_t>((price * (cap - (l << shift_)) + part) >> money_bits);
  fill_cost_ += static_cast<std::int64_t>(table.size()) / 4;
}

void Completion::apply_extra(int stage, const Extra& what, std::int64_t profit, std::int64_t cost,
                             const Prices& prices) {
  auto& table = after_extras_[stage];
  const auto size = static_cast<std::int64_t>(table.size());
  const std::int64_t level = cost >> shift_;
  profit -= prices.worth_of(cost - (level << shift_), stage);
  if (profit <= 0 || level >= size) return;
  extras_[stage].push_back(what);
  extras_[stage].back().level = static_cast<std::int32_t>(level);
  extras_[stage].back().before = table;
  raise(table.data(), table.data() + level, static_cast<std::int32_t>(profit), size - level);
  fill_cost_ += size / 4;
}

void Completion::extend_by_list(int stage, const Prices& prices) {
  const auto& after = after_extras_[stage];
  const auto size = static_cast<std::int32_t>(after.size());
  list_.frontier(stage, prices, size - 1, sweep_, frontiers_[stage]);
  const std::int64_t wanted = stage == 0 ? 0 : std::max<std::int64_t>(caps_[stage - 1], 0) >> shift_;
  const auto count = static_cast<std::int32_t>(wanted + 1);
  auto& table = tables_[stage];
  table.assign(count, never);
  for (const FrontierPoint& point : frontiers_[stage]) {
    raise(table.data(), after.data() + point.level, point.profit, std::min(count, size - point.level));
  }
  fill_cost_ += list_.sweep_cost(stage, sweep_) + size;
  fill_cost_ += static_cast<std::int64_t>(frontiers_[stage].size()) * (count / 6 + 8);
}

void Completion::extend_by_knapsack(int stage, const Prices& prices) {
  const auto& after = after_extras_[stage];
  const auto size = static_cast<std::int32_t>(after.size());
  knapsack_->extend(stage, prices, shift_, size - 1, after, tables_[stage]);
  const std::int64_t time = prices.minute_price[stage] * relaxed_.model->data().stages[stage].minutes;
  for (std::int32_t& value : tables_[stage]) value += static_cast<std::int32_t>(time);
  fill_cost_ += knapsack_->work() + size / 4;
}

RelaxedPath Completion::trace(const Prices& prices, int from, std::int64_t spent) {
  RelaxedPath path;
  path.units.resize(relaxed_.stages);
  path.tools.resize(relaxed_.stages);
  path.charges.resize(relaxed_.stages);
  path.minutes.resize(relaxed_.stages);
  path.orders.resize(relaxed_.stages);
  path.spent.resize(relaxed_.stages);
  auto level = static_cast<std::int32_t>(spent >> shift_);
  std::int64_t paid = std::int64_t{level} << shift_;
  for (int t = from; t < relaxed_.stages; ++t) {
    if (knapsack_) {
      const auto& after = after_extras_[t];
      const auto top = static_cast<std::int32_t>(after.size()) - 1;
      path.units[t] = knapsack_->trace(t, prices, shift_, top, after, level, level);
      path.minutes[t] = charged_minutes(path.units[t]);
    } else {
      const int node = trace_list(t, level, path);
      path.minutes[t] = list_.minutes(t, sweep_, node);
    }
    trace_extras(t, level, path);
    paid += cost_of(t, path);
    path.spent[t] = paid;
    for (int e : path.charges[t]) path.minutes[t] += relaxed_.charges[e].minutes;
  }
  return path;
}

int Completion::trace_list(int stage, std::int32_t& level, RelaxedPath& path) const {
  const auto& after = after_extras_[stage];
  const std::int32_t target = tables_[stage][level];
  for (const FrontierPoint& point : frontiers_[stage]) {
    const std::size_t reached = level + point.level;
    if (reached >= after.size() || after[reached] + point.profit != target) continue;
    level += point.level;
    path.units[stage] = list_.units(stage, sweep_, point.node);
    return point.node;
  }
  return 0;
}

void Completion::trace_extras(int stage, std::int32_t& level, RelaxedPath& path) const {
  const std::vector<std::int32_t>* table = &after_extras_[stage];
  for (auto extra = extras_[stage].rbegin(); extra != extras_[stage].rend(); ++extra) {
    if ((*table)[level] != extra->before[level]) {
      if (extra->tool >= 0) path.tools[stage].push_back(extra->tool);
      if (extra->charge >= 0) path.charges[stage].push_back(extra->charge);
      if (extra->supplier >= 0) path.orders[stage].push_back(extra->supplier);
      level += extra->level;
    }
    table = &extra->before;
  }
}

std::vector<int> Completion::shared_charges() const {
  return knapsack_ ? knapsack_->shared_charges() : std::vector<int>();
}

/// All that the path pays in a stage, to the minor unit.
std::int64_t Completion::cost_of(int stage, const RelaxedPath& path) const {
  std::vector<char> open(relaxed_.charges.size(), 0);
  std::int64_t sum = 0;
  for (int u : path.units[stage]) {
    sum += relaxed_.cost_at(u, stage);
    for (int e : knapsack_ ? knapsack_->charges_of(u) : relaxed_.charges_of[u]) {
      if (!open[e]) sum += relaxed_.charges[e].cost;
      open[e] = 1;
    }
  }
  for (int e : path.charges[stage]) sum += relaxed_.charges[e].cost;
  for (int k : path.tools[stage]) sum += relaxed_.tool_cost[k];
  for (int s : path.orders[stage]) sum += relaxed_.ordering.fee[s];
  return sum;
}

/// Bench time of units with the charges that the knapsack remembers: shared ones are extras.
std::int64_t Completion::charged_minutes(const std::vector<int>& units) const {
  std::vector<char> open(relaxed_.charges.size(), 0);
  std::int64_t sum = 0;
  for (int u : units) {
    sum += relaxed_.minutes[u];
    for (int e : knapsack_->charges_of(u)) {
      if (!open[e]) sum += relaxed_.charges[e].minutes;
      open[e] = 1;
    }
  }
  return sum;
}

}  // namespace fettlefund::budgets::search
