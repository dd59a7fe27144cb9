#include "budgets/search/linear_dual.hpp"

#include <algorithm>
#include <numeric>

namespace fettlefund::budgets::search {
namespace {

constexpr double barred = -1e100;

std::vector<int> all_charges(const Relaxed& relaxed) {
  std::vector<int> all(relaxed.charges.size());
  std::iota(all.begin(), all.end(), 0);
  return all;
}

}  // namespace

LinearDual::LinearDual(const Relaxed& relaxed)
    : relaxed_(relaxed), layout_(relaxed, all_charges(relaxed)), first_money_(layout_.size()) {
  size_ = first_money_ + relaxed.stages;
  std::int64_t sum = 0;
  for (int u = 0; u < relaxed.units; ++u) sum += relaxed.least_cost[u];
  if (sum > relaxed.units) money_unit_ = static_cast<double>(sum / relaxed.units);
  profit_.resize(static_cast<std::size_t>(relaxed.units) * relaxed.stages);
  tool_profit_.resize(static_cast<std::size_t>(relaxed.tools()) * relaxed.stages);
  charge_profit_.resize(relaxed.charges.size() * relaxed.stages);
  money_price_.resize(relaxed.stages);
  minute_price_.resize(relaxed.stages);
  unit_stage_.resize(relaxed.units);
  tool_stage_.resize(relaxed.tools());
  excess_.resize(size_);
  mean_.resize(size_);
  best_.values = layout_.start(relaxed, 0.0);
  best_.values.resize(size_, 0.0);
}

void LinearDual::price(const std::vector<double>& values) {
  const int stages = relaxed_.stages;
  constant_ = 0;
  double sum = 0;
  for (int t = stages - 1; t >= 0; --t) {
    const double money = values[first_money_ + t] / money_unit_;
    sum += money;
    money_price_[t] = sum;
    minute_price_[t] = values[layout_.minutes(t)] / layout_.minute_unit();
    constant_ += money * static_cast<double>(relaxed_.caps[t]) +
                 minute_price_[t] * static_cast<double>(relaxed_.model->data().stages[t].minutes);
  }
  for (int g = 0; g < relaxed_.model->group_count(); ++g) constant_ += values[layout_.group(g)];
  for (int u = 0; u < relaxed_.units; ++u) {
    double groups = 0;
    for (int g : relaxed_.model->units()[u].groups) groups += values[layout_.group(g)];
    for (int t = 0; t < stages; ++t) {
      profit_[u * stages + t] = static_cast<double>(relaxed_.worth_at(u, t)) - groups -
                                money_price_[t] * static_cast<double>(relaxed_.cost_at(u, t)) -
                                minute_price_[t] * static_cast<double>(relaxed_.minutes[u]);
    }
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    for (int t = 0; t < stages; ++t) {
      tool_profit_[k * stages + t] = -money_price_[t] * static_cast<double>(relaxed_.tool_cost[k]);
    }
  }
  for (std::size_t e = 0; e < relaxed_.charges.size(); ++e) {
    const Charge& charge = relaxed_.charges[e];
    for (int t = 0; t < stages; ++t) {
      charge_profit_[e * stages + t] = -static_cast<double>(charge.worth) -
                                       money_price_[t] * static_cast<double>(charge.cost) -
                                       minute_price_[t] * static_cast<double>(charge.minutes);
    }
  }
  for (std::size_t a = 0; a < layout_.arcs().size(); ++a) {
    const auto& arc = layout_.arcs()[a];
    double tail = 0;
    for (int t = stages - 1; t >= 0; --t) {
      tail += values[layout_.arc(static_cast<int>(a), t)];
      profit_[arc.after * stages + t] -= tail;
      profit_[arc.before * stages + t] += tail;
    }
  }
  for (std::size_t n = 0; n < layout_.needs().size(); ++n) {
    const auto& need = layout_.needs()[n];
    double tail = 0;
    for (int t = stages - 1; t >= 0; --t) {
      tail += values[layout_.need(static_cast<int>(n), t)];
      profit_[need.unit * stages + t] -= tail;
      tool_profit_[need.tool * stages + t] += tail;
    }
  }
  for (std::size_t s = 0; s < layout_.shares().size(); ++s) {
    const auto& share = layout_.shares()[s];
    for (int t = 0; t < stages; ++t) {
      const double paid = values[layout_.share(static_cast<int>(s), t)];
      profit_[share.unit * stages + t] -= paid;
      charge_profit_[share.charge * stages + t] += paid;
    }
  }
}

double LinearDual::choose() {
  const int stages = relaxed_.stages;
  double sum = constant_;
  for (int u = 0; u < relaxed_.units; ++u) {
    const bool must = relaxed_.model->units()[u].must;
    int best = -1;
    double most = must ? barred : 0;
    for (int t = 0; t < stages; ++t) {
      if (profit_[u * stages + t] <= most || !relaxed_.model->allowed(u, t)) continue;
      best = t, most = profit_[u * stages + t];
    }
    unit_stage_[u] = best;
    if (best >= 0) sum += most;
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    const auto row = tool_profit_.begin() + k * stages;
    const auto most = std::max_element(row, row + stages);
    tool_stage_[k] = *most > 0 ? static_cast<int>(most - row) : -1;
    sum += std::max(*most, 0.0);
  }
  for (double profit : charge_profit_) sum += std::max(profit, 0.0);
  return sum;
}

void LinearDual::measure() {
  const int stages = relaxed_.stages;
  std::vector<double> money(stages, 0), minutes(stages, 0);
  for (int g = 0; g < relaxed_.model->group_count(); ++g) excess_[layout_.group(g)] = -1;
  for (int u = 0; u < relaxed_.units; ++u) {
    const int t = unit_stage_[u];
    if (t < 0) continue;
    money[t] += static_cast<double>(relaxed_.cost_at(u, t));
    minutes[t] += static_cast<double>(relaxed_.minutes[u]);
    for (int g : relaxed_.model->units()[u].groups) excess_[layout_.group(g)] += 1;
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    if (tool_stage_[k] >= 0) money[tool_stage_[k]] += static_cast<double>(relaxed_.tool_cost[k]);
  }
  for (std::size_t e = 0; e < relaxed_.charges.size(); ++e) {
    for (int t = 0; t < stages; ++t) {
      if (charge_profit_[e * stages + t] <= 0) continue;
      money[t] += static_cast<double>(relaxed_.charges[e].cost);
      minutes[t] += static_cast<double>(relaxed_.charges[e].minutes);
    }
  }
  double spent = 0;
  for (int t = 0; t < stages; ++t) {
    spent += money[t];
    excess_[first_money_ + t] = (spent - static_cast<double>(relaxed_.caps[t])) / money_unit_;
    excess_[layout_.minutes(t)] =
        (minutes[t] - static_cast<double>(relaxed_.model->data().stages[t].minutes)) / layout_.minute_unit();
  }
  const auto done = [&](int stage, int t) { return stage >= 0 && stage <= t ? 1.0 : 0.0; };
  for (std::size_t a = 0; a < layout_.arcs().size(); ++a) {
    const int before = unit_stage_[layout_.arcs()[a].before], after = unit_stage_[layout_.arcs()[a].after];
    for (int t = 0; t < stages; ++t)
      excess_[layout_.arc(static_cast<int>(a), t)] = done(after, t) - done(before, t);
  }
  for (std::size_t n = 0; n < layout_.needs().size(); ++n) {
    const int tool = tool_stage_[layout_.needs()[n].tool], unit = unit_stage_[layout_.needs()[n].unit];
    for (int t = 0; t < stages; ++t)
      excess_[layout_.need(static_cast<int>(n), t)] = done(unit, t) - done(tool, t);
  }
  for (std::size_t s = 0; s < layout_.shares().size(); ++s) {
    const auto& share = layout_.shares()[s];
    const double* opened = charge_profit_.data() + static_cast<std::size_t>(share.charge) * stages;
    for (int t = 0; t < stages; ++t) {
      excess_[layout_.share(static_cast<int>(s), t)] =
          (unit_stage_[share.unit] == t ? 1.0 : 0.0) - (opened[t] > 0 ? 1.0 : 0.0);
    }
  }
}

double LinearDual::evaluate(const std::vector<double>& values) {
  price(values);
  const double bound = choose();
  measure();
  return bound;
}

double LinearDual::run(double hope, std::int64_t steps, Meter& meter) {
  const std::int64_t end = meter.steps() + steps;
  best_.bound = evaluate(best_.values);
  mean_ = excess_;
  std::vector<double> next = best_.values;
  double theta = 0.1, alpha = 0.1;
  int failures = 0;
  double checked = best_.bound;
  for (int i = 0; theta > 1e-3 && meter.steps() < end && !meter.out(); ++i) {
    double norm = 0;
    for (int k = 0; k < size_; ++k) {
      if (best_.values[k] > 0 || mean_[k] > 0) norm += mean_[k] * mean_[k];
    }
    if (norm <= 0) break;
    const double target = std::max(hope, best_.bound - 0.05 * std::max(best_.bound, -best_.bound));
    const double length = theta * std::max(best_.bound - target, 0.01) / norm;
    for (int k = 0; k < size_; ++k) next[k] = std::max(0.0, best_.values[k] + length * mean_[k]);
    const double bound = evaluate(next);
    meter.add(6 * std::int64_t{size_});
    double product = 0;
    for (int k = 0; k < size_; ++k) product += mean_[k] * excess_[k];
    double square_mean = 0, square = 0;
    for (int k = 0; k < size_; ++k) square_mean += mean_[k] * mean_[k], square += excess_[k] * excess_[k];
    // The share of the newest that makes the mix shortest.
    const double below = square + square_mean - 2 * product;
    const double share = below > 0 ? std::clamp((square_mean - product) / below, alpha / 10, alpha) : alpha;
    for (int k = 0; k < size_; ++k) mean_[k] += share * (excess_[k] - mean_[k]);
    if (bound < best_.bound) {
      best_.bound = bound;
      best_.values.swap(next);
      failures = 0;
      if (product > 0) theta = std::min(theta * 1.1, 2.0);
    } else if (++failures >= 15) {
      theta *= 0.66;
      failures = 0;
    }
    if (i % 100 == 99) {
      if (checked - best_.bound < 0.01 * std::max(checked, -checked) && alpha > 1e-5) alpha *= 0.8;
      checked = best_.bound;
    }
  }
  return best_.bound;
}

void LinearDual::write(const Multipliers& layout, std::vector<double>& values) {
  const int stages = relaxed_.stages;
  price(best_.values);
  for (int u = 0; u < relaxed_.units; ++u) {
    double most = relaxed_.model->units()[u].must ? barred : 0;
    for (int t = 0; t < stages; ++t) {
      if (relaxed_.model->allowed(u, t)) most = std::max(most, profit_[u * stages + t]);
    }
    values[layout.once(u)] = most <= barred ? 0 : most;
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    const auto row = tool_profit_.begin() + k * stages;
    values[layout.tool(k)] = std::max(0.0, *std::max_element(row, row + stages));
  }
  const auto copy = [&](int from, int to, int count) {
    std::copy(best_.values.begin() + from, best_.values.begin() + from + count, values.begin() + to);
  };
  for (int g = 0; g < relaxed_.model->group_count(); ++g) copy(layout_.group(g), layout.group(g), 1);
  copy(layout_.minutes(0), layout.minutes(0), stages);
  copy(layout_.arc(0, 0), layout.arc(0, 0), static_cast<int>(layout.arcs().size()) * stages);
  copy(layout_.need(0, 0), layout.need(0, 0), static_cast<int>(layout.needs().size()) * stages);
  std::size_t place = 0;
  for (std::size_t s = 0; s < layout_.shares().size() && place < layout.shares().size(); ++s) {
    const auto& wanted = layout.shares()[place];
    const auto& share = layout_.shares()[s];
    if (share.unit != wanted.unit || share.charge != wanted.charge) continue;
    copy(layout_.share(static_cast<int>(s), 0), layout.share(static_cast<int>(place++), 0), stages);
  }
}

}  // namespace fettlefund::budgets::search
