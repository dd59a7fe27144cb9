#include <algorithm>

#include "budgets/search/layers/expander.hpp"

namespace fettlefund::budgets::search {

/// Splits charges and tools among the candidates that have them: any set of candidates bears no more than
/// the whole of each. A tool's gain is counted in full where it helps.
void Expander::share_out() {
  charge_users_.assign(relaxed_.charges.size(), 0);
  tool_users_.assign(relaxed_.tools(), 0);
  fee_users_.assign(relaxed_.fees.size(), 0);
  for (const Candidate& c : candidates_) {
    for (int e : relaxed_.charges_of[c.unit]) ++charge_users_[e];
    for (int k : relaxed_.tools_of[c.unit]) ++tool_users_[k];
    for (int f : relaxed_.fees_of[c.unit]) ++fee_users_[f];
  }
  for (Candidate& c : candidates_) {
    c.most = c.shared_gain = c.gain;
    c.shared_cost = relaxed_.cost_at(c.unit, stage_);
    c.shared_minutes = relaxed_.minutes[c.unit];
    for (int e : relaxed_.charges_of[c.unit]) {
      c.shared_cost += relaxed_.charges[e].cost / charge_users_[e];
      c.shared_minutes += relaxed_.charges[e].minutes / charge_users_[e];
      c.shared_gain -= bounder_.prices().charge_worth[e] / charge_users_[e];
    }
    for (int f : relaxed_.fees_of[c.unit])
      c.shared_cost += fees_[f] == 0 ? relaxed_.fees[f].cost / fee_users_[f] : 0;
    for (int k : relaxed_.tools_of[c.unit]) {
      if (had_[k] != 0) continue;
      const std::int64_t gain = tool_gain(k);
      c.most += std::max<std::int64_t>(gain, 0);
      c.shared_gain += gain > 0 ? gain : gain / tool_users_[k];
      c.shared_cost += relaxed_.tool_cost[k] / tool_users_[k];
    }
  }
}

/// What a minute is worth when the candidates with the most gain for their time, their money apart, are taken
/// up until the time is used: zero if there is time for all. Any price is valid; this one cuts well.
std::int64_t Expander::critical_price(const Node& node) const {
  const Completion& table = bounder_.completion();
  const std::int64_t here = table.at(stage_ + 1, node.relaxed);
  std::vector<std::pair<double, std::int64_t>> rates;
  for (const Candidate& c : candidates_) {
    const std::int64_t there = table.at(stage_ + 1, node.relaxed + c.shared_cost);
    if (there == Completion::beyond || c.shared_minutes <= 0) continue;
    const std::int64_t net = c.shared_gain + there - here;
    if (net > 0)
      rates.emplace_back(static_cast<double>(net) / static_cast<double>(c.shared_minutes), c.shared_minutes);
  }
  std::sort(rates.begin(), rates.end(), [](const auto& a, const auto& b) { return a > b; });
  std::int64_t left = model_.data().stages[stage_].minutes;
  for (const auto& [rate, minutes] : rates) {
    left -= minutes;
    if (left < 0) return static_cast<std::int64_t>(rate);
  }
  return 0;
}

void Expander::look_ahead(Node& node) {
  share_out();
  node.shared_base = node.bound_base;
  node.shared_relaxed = node.relaxed;
  node.shared_minutes = 0;
  time_price_ = critical_price(node);
  const Completion& table = bounder_.completion();
  const std::int64_t from = table.level(node.relaxed);
  const auto& after = table.table(stage_ + 1);
  const std::int64_t cap = table.level(std::max<std::int64_t>(table.cap(stage_), 0)) + 1;
  const std::int64_t size = std::min(static_cast<std::int64_t>(after.size()), cap) - from;
  prospects_.clear();
  for (const Candidate& c : candidates_) {
    prospects_.push_back({c.most, table.level(relaxed_.cost_at(c.unit, stage_))});
  }
  plain_.build(prospects_, after.data() + from, from, size);
  for (std::size_t i = 0; i < candidates_.size(); ++i) {
    const Candidate& c = candidates_[i];
    prospects_[i] = {c.shared_gain - time_price_ * c.shared_minutes, table.level(c.shared_cost)};
  }
  shared_.build(prospects_, after.data() + from, from, size);
  meter_->add(plain_.cost() + shared_.cost());
}

std::int64_t Expander::shared_promise(std::size_t next, const Node& node) const {
  const std::int64_t time = model_.data().stages[stage_].minutes - node.shared_minutes;
  const std::int64_t level = bounder_.completion().level(node.shared_relaxed);
  return node.shared_base + time_price_ * time + shared_.at(next, level);
}

/// No child made of `node` and candidates from `next` on has a higher bound.
std::int64_t Expander::promise(std::size_t next, const Node& node) const {
  const std::int64_t level = bounder_.completion().level(node.relaxed);
  return std::min(node.bound_base + plain_.at(next, level), shared_promise(next, node));
}

}  // namespace fettlefund::budgets::search
