#include "budgets/search/local/orders.hpp"

#include <algorithm>
#include <numeric>

namespace fettlefund::budgets::search {

OrderImprover::OrderImprover(const Relaxed& relaxed, std::uint64_t seed) : relaxed_(relaxed), random_(seed) {}

/// Whether the unit has room in the stage: time there, and money on every payday from it on.
bool OrderImprover::fits(int unit, int stage) {
  const int stages = relaxed_.stages;
  std::int64_t minutes = relaxed_.minutes[unit];
  std::int64_t cost = relaxed_.cost_at(unit, stage);
  const char* open = open_.data() + static_cast<std::size_t>(stage) * relaxed_.charges.size();
  for (int e : relaxed_.charges_of[unit]) {
    if (open[e]) continue;
    minutes += relaxed_.charges[e].minutes;
    cost += relaxed_.charges[e].cost;
  }
  effort_ += 4 + static_cast<std::int64_t>(relaxed_.charges_of[unit].size());
  if (minutes_[stage] + minutes > relaxed_.model->data().stages[stage].minutes) return false;
  for (int k : relaxed_.tools_of[unit]) {
    if (tool_stage_[k] > stage) cost += relaxed_.tool_cost[k];
  }
  for (int s = stage; s < stages; ++s) {
    for (int k : relaxed_.tools_of[unit]) {
      if (s > stage && tool_stage_[k] == s) cost -= relaxed_.tool_cost[k];
    }
    if (spent_[s] + cost > relaxed_.caps[s]) return false;
  }
  effort_ += stages - stage;
  return true;
}

void OrderImprover::commit(int unit, int stage) {
  const int stages = relaxed_.stages;
  char* open = open_.data() + static_cast<std::size_t>(stage) * relaxed_.charges.size();
  const auto pay = [&](std::int64_t cost, int from, int to) {
    for (int s = from; s < to; ++s) spent_[s] += cost;
  };
  std::int64_t cost = relaxed_.cost_at(unit, stage);
  value_ += relaxed_.worth_at(unit, stage);
  minutes_[stage] += relaxed_.minutes[unit];
  for (int e : relaxed_.charges_of[unit]) {
    if (open[e]) continue;
    open[e] = 1;
    cost += relaxed_.charges[e].cost;
    minutes_[stage] += relaxed_.charges[e].minutes;
    value_ -= relaxed_.charges[e].worth;
  }
  pay(cost, stage, stages);
  for (int k : relaxed_.tools_of[unit]) {
    if (tool_stage_[k] <= stage) continue;
    pay(relaxed_.tool_cost[k], stage, std::min(tool_stage_[k], stages));
    tool_stage_[k] = stage;
  }
  for (int g : relaxed_.model->units()[unit].groups) taken_[g] = 1;
  stage_of_[unit] = stage;
}

/// Places a unit, and before it what it requires.
bool OrderImprover::place(int unit, const Genes& genes, int depth) {
  if (tried_[unit]) return stage_of_[unit] >= 0;
  tried_[unit] = 1;
  if (genes.delay[unit] >= relaxed_.stages || depth > relaxed_.units) return false;
  const auto& data = relaxed_.model->units()[unit];
  int first = std::max(genes.delay[unit], std::max(data.first, 0));
  for (int b : data.before) {
    if (!place(b, genes, depth + 1)) return false;
    first = std::max(first, stage_of_[b]);
  }
  if (std::any_of(data.groups.begin(), data.groups.end(), [&](int g) { return taken_[g]; })) return false;
  for (int t = first; t <= data.last; ++t) {
    if (!relaxed_.model->allowed(unit, t) || !fits(unit, t)) continue;
    commit(unit, t);
    return true;
  }
  return false;
}

/// The value of the plan that `genes` stand for, less a fine for each must that is missing.
std::int64_t OrderImprover::decode(const Genes& genes) {
  stage_of_.assign(relaxed_.units, -1);
  tried_.assign(relaxed_.units, 0);
  taken_.assign(relaxed_.model->group_count(), 0);
  minutes_.assign(relaxed_.stages, 0);
  spent_.assign(relaxed_.stages, 0);
  open_.assign(static_cast<std::size_t>(relaxed_.stages) * relaxed_.charges.size(), 0);
  tool_stage_.assign(relaxed_.tools(), relaxed_.stages);
  value_ = 0;
  effort_ += relaxed_.units * 4 + relaxed_.stages * 4;
  for (int u : genes.order) place(u, genes, 0);
  for (int u = 0; u < relaxed_.units; ++u) {
    if (relaxed_.model->units()[u].must && stage_of_[u] < 0) value_ -= missing_must;
  }
  return value_;
}

/// Units in the order of their stages; those left out come last.
OrderImprover::Genes OrderImprover::genes_of(const std::vector<int>& stage_of) const {
  Genes genes{std::vector<int>(relaxed_.units), std::vector<int>(relaxed_.units, 0)};
  std::iota(genes.order.begin(), genes.order.end(), 0);
  const auto place_of = [&](int u) { return stage_of[u] < 0 ? relaxed_.stages : stage_of[u]; };
  std::stable_sort(genes.order.begin(), genes.order.end(),
                   [&](int a, int b) { return place_of(a) < place_of(b); });
  for (int u = 0; u < relaxed_.units; ++u) genes.delay[u] = std::max(stage_of[u], 0);
  return genes;
}

/// Units by worth for their cost, the best first; no delays.
OrderImprover::Genes OrderImprover::greedy_genes() const {
  Genes genes{std::vector<int>(relaxed_.units), std::vector<int>(relaxed_.units, 0)};
  std::iota(genes.order.begin(), genes.order.end(), 0);
  std::vector<double> rate;
  for (int u = 0; u < relaxed_.units; ++u) {
    std::int64_t cost = relaxed_.least_cost[u];
    for (int e : relaxed_.charges_of[u]) cost += relaxed_.charges[e].cost;
    for (int k : relaxed_.tools_of[u]) cost += relaxed_.tool_cost[k] / 4;
    const int first = std::clamp(relaxed_.model->units()[u].first, 0, relaxed_.stages - 1);
    const auto worth = static_cast<double>(relaxed_.worth_at(u, first));
    const bool must = relaxed_.model->units()[u].must;
    rate.push_back(must ? 1e300 : worth / (1.0 + static_cast<double>(cost)));
  }
  std::stable_sort(genes.order.begin(), genes.order.end(), [&](int a, int b) { return rate[a] > rate[b]; });
  return genes;
}

void OrderImprover::mutate(Genes& genes, bool delays) {
  const int n = relaxed_.units;
  if (delays && random_.below(10) < 3) {
    const int unit = random_.below(n);
    genes.delay[unit] = genes.delay[unit] > 0 ? 0 : random_.below(relaxed_.stages + 1);
    return;
  }
  const int from = random_.below(n);
  const int to = random_.below(n);
  if (random_.below(2) == 0) {
    std::swap(genes.order[from], genes.order[to]);
  } else if (from < to) {
    std::rotate(genes.order.begin() + from, genes.order.begin() + from + 1, genes.order.begin() + to + 1);
  } else {
    std::rotate(genes.order.begin() + to, genes.order.begin() + from, genes.order.begin() + from + 1);
  }
}

/// Accepts what is worse by less than a threshold that falls to nothing: orders alone in the first third of
/// the steps, delays too afterwards.
std::vector<int> OrderImprover::run(const std::vector<int>& start, std::int64_t steps, Meter& meter) {
  if (relaxed_.units < 2) return start;
  Genes now = greedy_genes();
  std::int64_t value = decode(now);
  Genes given = genes_of(start);
  const std::int64_t given_value = decode(given);
  if (given_value >= value) {
    now = std::move(given);
    value = given_value;
  }
  decode(now);
  std::int64_t best = value;
  std::vector<int> best_stages = stage_of_;
  const std::int64_t begin = meter.steps();
  const std::int64_t first_threshold = std::max<std::int64_t>(std::abs(value % missing_must) / 100, 1);
  Genes next = now;
  for (;;) {
    const std::int64_t used = meter.steps() - begin;
    if (used >= steps || meter.out()) break;
    effort_ = 0;
    next = now;
    mutate(next, used > steps / 3);
    const std::int64_t found = decode(next);
    meter.add(effort_ * 2);
    const std::int64_t threshold = scale_down(first_threshold, steps - used, steps);
    if (found < value - threshold) continue;
    value = found;
    std::swap(now, next);
    if (value > best) best = value, best_stages = stage_of_;
  }
  return best_stages;
}

}  // namespace fettlefund::budgets::search
