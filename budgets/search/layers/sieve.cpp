#include "budgets/search/layers/sieve.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {

Sieve::Sieve(const Relaxed& relaxed) : relaxed_(relaxed) {}

bool Sieve::order_holds(int unit, const Placing& placing) {
  const Model& model = *relaxed_.model;
  if (!model.allowed(unit, placing[unit])) return false;
  for (int b : model.units()[unit].before) {
    if (placing[b] < 0 || placing[b] > placing[unit]) return false;
  }
  for (int g : model.units()[unit].groups) {
    if (taken_[g]++ != 0) return false;
  }
  return true;
}

void Sieve::add(int unit, int stage) {
  spent_[stage] += relaxed_.cost_at(unit, stage);
  minutes_[stage] += relaxed_.minutes[unit];
  value_ += relaxed_.worth_at(unit, stage);
  char* open = open_.data() + static_cast<std::size_t>(stage) * relaxed_.charges.size();
  for (int e : relaxed_.charges_of[unit]) {
    if (open[e]) continue;
    open[e] = 1;
    spent_[stage] += relaxed_.charges[e].cost;
    minutes_[stage] += relaxed_.charges[e].minutes;
    value_ -= relaxed_.charges[e].worth;
  }
  for (int k : relaxed_.tools_of[unit]) tool_stage_[k] = std::min(tool_stage_[k], stage);
}

bool Sieve::money_holds() const {
  std::int64_t sum = 0;
  for (int t = 0; t < relaxed_.stages; ++t) {
    sum += spent_[t];
    if (sum > relaxed_.caps[t]) return false;
  }
  return true;
}

bool Sieve::days_hold(const Placing& placing) const {
  for (int t = 0; t < relaxed_.stages; ++t) {
    std::vector<int> units;
    for (int u = 0; u < relaxed_.units; ++u) {
      if (placing[u] == t) units.push_back(u);
    }
    if (!relaxed_.model->keeps_days(units, t)) return false;
  }
  return true;
}

std::optional<std::int64_t> Sieve::value(const Placing& placing) {
  spent_.assign(relaxed_.stages, 0);
  minutes_.assign(relaxed_.stages, 0);
  open_.assign(static_cast<std::size_t>(relaxed_.stages) * relaxed_.charges.size(), 0);
  tool_stage_.assign(relaxed_.tools(), relaxed_.stages);
  taken_.assign(relaxed_.model->group_count(), 0);
  value_ = 0;
  for (int u = 0; u < relaxed_.units; ++u) {
    if (placing[u] < 0) continue;
    if (!order_holds(u, placing)) return std::nullopt;
    add(u, placing[u]);
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    if (tool_stage_[k] < relaxed_.stages) spent_[tool_stage_[k]] += relaxed_.tool_cost[k];
  }
  for (int t = 0; t < relaxed_.stages; ++t) {
    if (minutes_[t] > relaxed_.model->data().stages[t].minutes) return std::nullopt;
  }
  if (!money_holds() || !days_hold(placing)) return std::nullopt;
  return value_;
}

}  // namespace fettlefund::budgets::search
