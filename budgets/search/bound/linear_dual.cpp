#include "budgets/search/bound/linear_dual.hpp"

#include <algorithm>
#include <numeric>

namespace fettlefund::budgets::search {
namespace {

// Step lengths, and the weight of the newest choice: tried on the instance families of the bench.
constexpr double first_theta = 0.1;
constexpr double longest_theta = 2.0;
constexpr double shortest_theta = 1e-3;
constexpr double growth = 1.1;
constexpr double decay = 0.66;
constexpr int patience = 15;  ///< iterations without gain before steps become shorter
constexpr double first_weight = 0.1;
constexpr double least_weight = 1e-5;
constexpr int review = 100;  ///< iterations after which a gain of less than a hundredth lowers the weight

std::vector<int> all_charges(const Relaxed& relaxed) {
  std::vector<int> all(relaxed.charges.size());
  std::iota(all.begin(), all.end(), 0);
  return all;
}

}  // namespace

LinearDual::LinearDual(const Relaxed& relaxed)
    : relaxed_(relaxed), layout_(relaxed, all_charges(relaxed)), size_(layout_.size()) {
  const auto stages = static_cast<std::size_t>(relaxed.stages);
  profit_.resize(relaxed.units * stages);
  tool_profit_.resize(relaxed.tools() * stages);
  charge_profit_.resize(relaxed.charges.size() * stages);
  order_profit_.resize(relaxed.ordering.empty() ? 0 : relaxed.ordering.suppliers() * stages);
  choices_.resize(relaxed.ordering.lines.size() * stages);
  money_price_.resize(stages);
  minute_price_.resize(stages);
  unit_stage_.resize(relaxed.units);
  tool_stage_.resize(relaxed.tools());
  excess_.resize(size_);
  best_.assign(size_, 0.0);
}

/// Prices of money and time, and what they take from every profit.
void LinearDual::price_stages(const std::vector<double>& values) {
  constant_ = 0;
  double tail = 0;
  for (int t = relaxed_.stages - 1; t >= 0; --t) {
    const double money = values[layout_.money(t)] / layout_.money_unit();
    tail += money;
    money_price_[t] = tail;
    minute_price_[t] = values[layout_.minutes(t)] / layout_.minute_unit();
    constant_ += money * real(relaxed_.caps[t]);
    constant_ += minute_price_[t] * real(relaxed_.model->data().stages[t].minutes);
  }
}

void LinearDual::price(const std::vector<double>& values) {
  price_stages(values);
  const int stages = relaxed_.stages;
  for (int g = 0; g < relaxed_.model->group_count(); ++g) constant_ += values[layout_.group(g)];
  for (int u = 0; u < relaxed_.units; ++u) {
    double groups = 0;
    for (int g : relaxed_.model->units()[u].groups) groups += values[layout_.group(g)];
    for (int t = 0; t < stages; ++t) {
      profit_[u * stages + t] = real(relaxed_.worth_at(u, t)) - groups -
                                money_price_[t] * real(relaxed_.cost_at(u, t)) -
                                minute_price_[t] * real(relaxed_.minutes[u]);
    }
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    for (int t = 0; t < stages; ++t)
      tool_profit_[k * stages + t] = -money_price_[t] * real(relaxed_.tool_cost[k]);
  }
  for (std::size_t e = 0; e < relaxed_.charges.size(); ++e) {
    const Charge& charge = relaxed_.charges[e];
    for (int t = 0; t < stages; ++t) {
      charge_profit_[e * stages + t] =
          -real(charge.worth) - money_price_[t] * real(charge.cost) - minute_price_[t] * real(charge.minutes);
    }
  }
  price_demands(values);
  price_lines(values);
}

/// What one pays and another is paid. Demands on all stages up to t are priced in every one of them.
void LinearDual::price_demands(const std::vector<double>& values) {
  const int stages = relaxed_.stages;
  const auto pay = [&](int first, double* payer, double* paid) {
    double tail = 0;
    for (int t = stages - 1; t >= 0; --t) {
      tail += values[first + t];
      payer[t] -= tail;
      paid[t] += tail;
    }
  };
  for (std::size_t a = 0; a < layout_.arcs().size(); ++a) {
    const auto& arc = layout_.arcs()[a];
    pay(layout_.arc(static_cast<int>(a), 0), &profit_[arc.after * stages], &profit_[arc.before * stages]);
  }
  for (std::size_t n = 0; n < layout_.needs().size(); ++n) {
    const auto& need = layout_.needs()[n];
    pay(layout_.need(static_cast<int>(n), 0), &profit_[need.unit * stages],
        &tool_profit_[need.tool * stages]);
  }
  for (std::size_t s = 0; s < layout_.shares().size(); ++s) {
    const auto& share = layout_.shares()[s];
    const int first = layout_.share(static_cast<int>(s), 0);
    for (int t = 0; t < stages; ++t) {
      profit_[share.unit * stages + t] -= values[first + t];
      charge_profit_[share.charge * stages + t] += values[first + t];
    }
  }
}

/// The most a unit earns in a stage it may be done in; `stage` is -1, and the result 0, if it had better not.
double LinearDual::best_profit(int unit, int& stage) const {
  const bool must = relaxed_.model->units()[unit].must;
  const double* row = &profit_[unit * relaxed_.stages];
  stage = -1;
  double most = 0;
  for (int t = 0; t < relaxed_.stages; ++t) {
    const bool first = must && stage < 0;
    if (!relaxed_.model->allowed(unit, t) || (row[t] <= most && !first)) continue;
    stage = t;
    most = row[t];
  }
  return most;
}

double LinearDual::choose() {
  const int stages = relaxed_.stages;
  double sum = constant_;
  for (int u = 0; u < relaxed_.units; ++u) sum += best_profit(u, unit_stage_[u]);
  for (int k = 0; k < relaxed_.tools(); ++k) {
    const auto row = tool_profit_.begin() + k * stages;
    const auto most = std::max_element(row, row + stages);
    tool_stage_[k] = *most > 0 ? static_cast<int>(most - row) : -1;
    sum += std::max(*most, 0.0);
  }
  for (double profit : charge_profit_) sum += std::max(profit, 0.0);
  for (double profit : order_profit_) sum += std::max(profit, 0.0);
  return sum;
}

void LinearDual::measure_caps() {
  const int stages = relaxed_.stages;
  std::vector<double> money(stages, 0), minutes(stages, 0);
  for (int u = 0; u < relaxed_.units; ++u) {
    const int t = unit_stage_[u];
    if (t < 0) continue;
    money[t] += real(relaxed_.cost_at(u, t));
    minutes[t] += real(relaxed_.minutes[u]);
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    if (tool_stage_[k] >= 0) money[tool_stage_[k]] += real(relaxed_.tool_cost[k]);
  }
  for (std::size_t e = 0; e < relaxed_.charges.size(); ++e) {
    for (int t = 0; t < stages; ++t) {
      if (charge_profit_[e * stages + t] <= 0) continue;
      money[t] += real(relaxed_.charges[e].cost);
      minutes[t] += real(relaxed_.charges[e].minutes);
    }
  }
  add_lines(money);
  double spent = 0;
  for (int t = 0; t < stages; ++t) {
    spent += money[t];
    const double more = minutes[t] - real(relaxed_.model->data().stages[t].minutes);
    excess_[layout_.money(t)] = (spent - real(relaxed_.caps[t])) / layout_.money_unit();
    excess_[layout_.minutes(t)] = more / layout_.minute_unit();
  }
}

void LinearDual::measure() {
  measure_caps();
  measure_joins();
  const int stages = relaxed_.stages;
  for (int g = 0; g < relaxed_.model->group_count(); ++g) excess_[layout_.group(g)] = -1;
  for (int u = 0; u < relaxed_.units; ++u) {
    for (int g : relaxed_.model->units()[u].groups) excess_[layout_.group(g)] += unit_stage_[u] >= 0 ? 1 : 0;
  }
  const auto compare = [&](int first, int after, int before) {
    for (int t = 0; t < stages; ++t) {
      excess_[first + t] = (after >= 0 && after <= t ? 1 : 0) - (before >= 0 && before <= t ? 1 : 0);
    }
  };
  for (std::size_t a = 0; a < layout_.arcs().size(); ++a) {
    const auto& arc = layout_.arcs()[a];
    compare(layout_.arc(static_cast<int>(a), 0), unit_stage_[arc.after], unit_stage_[arc.before]);
  }
  for (std::size_t n = 0; n < layout_.needs().size(); ++n) {
    const auto& need = layout_.needs()[n];
    compare(layout_.need(static_cast<int>(n), 0), unit_stage_[need.unit], tool_stage_[need.tool]);
  }
  for (std::size_t s = 0; s < layout_.shares().size(); ++s) {
    const auto& share = layout_.shares()[s];
    const double* opened = &charge_profit_[share.charge * stages];
    const int first = layout_.share(static_cast<int>(s), 0);
    for (int t = 0; t < stages; ++t)
      excess_[first + t] = (unit_stage_[share.unit] == t ? 1 : 0) - (opened[t] > 0 ? 1 : 0);
  }
}

double LinearDual::evaluate(const std::vector<double>& values) {
  price(values);
  const double bound = choose();
  measure();
  return bound;
}

/// From the best point along the mean excess, as far as the distance to a target says (after Polyak).
/// False if no demand is missed: the best point is optimal.
bool LinearDual::step(double theta, double hope, std::vector<double>& next) const {
  double norm = 0;
  for (int k = 0; k < size_; ++k) {
    if (best_[k] > 0 || mean_[k] > 0) norm += mean_[k] * mean_[k];
  }
  if (norm <= 0) return false;
  const double target = std::max(hope, bound_ - 0.05 * std::max(bound_, -bound_));
  const double length = theta * std::max(bound_ - target, 0.01) / norm;
  for (int k = 0; k < size_; ++k) next[k] = std::max(0.0, best_[k] + length * mean_[k]);
  return true;
}

/// Mixes the newest excess into the mean, with the weight up to `most` that makes it shortest. Returns the
/// product of the two from before: positive where they point the same way.
double LinearDual::mix(double most) {
  double product = 0, mean = 0, newest = 0;
  for (int k = 0; k < size_; ++k) {
    product += mean_[k] * excess_[k];
    mean += mean_[k] * mean_[k];
    newest += excess_[k] * excess_[k];
  }
  const double apart = newest + mean - 2 * product;
  const double weight = apart > 0 ? std::clamp((mean - product) / apart, most / 10, most) : most;
  for (int k = 0; k < size_; ++k) mean_[k] += weight * (excess_[k] - mean_[k]);
  return product;
}

double LinearDual::run(double hope, std::int64_t steps, Meter& meter) {
  const std::int64_t end = meter.steps() + steps;
  bound_ = evaluate(best_);
  mean_ = excess_;
  std::vector<double> next = best_;
  double theta = first_theta, weight = first_weight, reviewed = bound_;
  int failures = 0;
  for (int i = 1; theta > shortest_theta && meter.steps() < end && !meter.out(); ++i) {
    if (!step(theta, hope, next)) break;
    const double bound = evaluate(next);
    meter.add(6 * std::int64_t{size_});
    const double product = mix(weight);
    if (bound < bound_) {
      bound_ = bound;
      best_.swap(next);
      failures = 0;
      if (product > 0) theta = std::min(theta * growth, longest_theta);
    } else if (++failures >= patience) {
      theta *= decay;
      failures = 0;
    }
    if (i % review != 0) continue;
    const bool slow = reviewed - bound_ < 0.01 * std::max(reviewed, -reviewed);
    if (slow && weight > least_weight) weight *= 0.8;
    reviewed = bound_;
  }
  return bound_;
}

void LinearDual::write(const Multipliers& layout, std::vector<double>& values) {
  const int stages = relaxed_.stages;
  price(best_);
  choose();
  // What a unit or tool earns at best is the price of doing it once.
  for (int u = 0, stage = 0; u < relaxed_.units; ++u) values[layout.once(u)] = best_profit(u, stage);
  for (int k = 0; k < relaxed_.tools(); ++k) {
    const int stage = tool_stage_[k];
    values[layout.tool(k)] = stage < 0 ? 0 : tool_profit_[k * stages + stage];
  }
  const auto copy = [&](int from, int to, int count) {
    std::copy(best_.begin() + from, best_.begin() + from + count, values.begin() + to);
  };
  copy(layout_.group(0), layout.group(0), relaxed_.model->group_count());
  copy(layout_.minutes(0), layout.minutes(0), stages);
  if (!relaxed_.ordering.empty()) copy(layout_.money(0), layout.money(0), stages);
  copy(layout_.join(0, 0), layout.join(0, 0), static_cast<int>(relaxed_.ordering.joins.size()) * stages);
  copy(layout_.arc(0, 0), layout.arc(0, 0), static_cast<int>(layout.arcs().size()) * stages);
  copy(layout_.need(0, 0), layout.need(0, 0), static_cast<int>(layout.needs().size()) * stages);
  std::size_t place = 0;  // both lists are in the order of units and their charges
  for (std::size_t s = 0; s < layout_.shares().size() && place < layout.shares().size(); ++s) {
    const auto& wanted = layout.shares()[place];
    const auto& share = layout_.shares()[s];
    if (share.unit != wanted.unit || share.charge != wanted.charge) continue;
    copy(layout_.share(static_cast<int>(s), 0), layout.share(static_cast<int>(place++), 0), stages);
  }
}

}  // namespace fettlefund::budgets::search
