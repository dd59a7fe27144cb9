#include "budgets/search/bound/bounder.hpp"

#include <algorithm>

#include "budgets/search/bound/linear_dual.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t no_bound = std::int64_t{1} << 60;

double square(const std::vector<double>& v) {
  double sum = 0;
  for (double x : v) sum += x * x;
  return sum;
}

}  // namespace

/// The moving point of the subgradient method.
struct Bounder::Step {
  std::vector<double> values;
  std::vector<double> direction;
  double theta = 1;
};

Bounder::Bounder(const Relaxed& relaxed, std::int32_t list_limit)
    : relaxed_(relaxed),
      scale_(relaxed),
      completion_(relaxed, scale_, list_limit),
      layout_(relaxed, completion_.shared_charges()) {}

std::int64_t Bounder::bound(const Root& root) const {
  const std::int64_t rest = completion_.at(root.stage, root.spent);
  std::int64_t sum = scale_.up(root.value) + prices_.constant + rest;
  for (int u = 0; u < relaxed_.units; ++u) {
    if (root.done[u]) sum -= prices_.done[root.stage * relaxed_.units + u];
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    if (root.had[k]) sum -= prices_.had[root.stage * relaxed_.tools() + k];
  }
  return sum;
}

std::int64_t Bounder::evaluate(const Root& root, const std::vector<double>& values, Sweep sweep, bool fine,
                               Meter& meter) {
  prices_ = make_prices(relaxed_, layout_, scale_, values, completion_.prices_minutes(), root.stage);
  if (!prices_.usable) return no_bound;
  completion_.fill(prices_, root.stage, sweep, fine);
  meter.add(completion_.fill_cost() + 4 * std::int64_t{layout_.size()});
  return bound(root);
}

void Bounder::load(std::vector<double>& values, int from, int open, Meter& meter) {
  prices_ = make_prices(relaxed_, layout_, scale_, values, completion_.prices_minutes(), open);
  if (!prices_.usable) {
    values = layout_.start(relaxed_, 1.0);
    prices_ = make_prices(relaxed_, layout_, scale_, values, completion_.prices_minutes(), open);
  }
  completion_.fill(prices_, from, Sweep::whole, true);
  meter.add(completion_.fill_cost());
}

std::vector<double> Bounder::linear_start(double hope, std::int64_t steps, Meter& meter) const {
  LinearDual dual(relaxed_);
  dual.run(hope, steps, meter);
  std::vector<double> values = start();
  dual.write(layout_, values);
  return values;
}

std::vector<double> Bounder::make_fit(std::vector<double> values) const {
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (values[i] < 0 && !layout_.free_sign(static_cast<int>(i))) values[i] = 0;
  }
  return values;
}

/// One step along the deflected slope, its length by how far the bound is above `target` (after Polyak).
void Bounder::move(const Root& root, Step& step, std::int64_t bound, double target) {
  const RelaxedPath path = completion_.trace(prices_, root.stage, root.spent);
  const std::vector<double> down =
      slope(relaxed_, layout_, root, path, prices_, completion_.prices_minutes());
  for (std::size_t i = 0; i < down.size(); ++i) {
    double& along = step.direction[i];
    along = down[i] + 0.7 * along;
    // A multiplier at zero cannot fall: what pulls it down must not shorten the step of the others.
    const bool held = step.values[i] <= 0 && along > 0 && !layout_.free_sign(static_cast<int>(i));
    if (held) along = 0;
  }
  const double norm = square(step.direction);
  if (norm <= 0) return;
  const double length = step.theta * std::max(scale_.to_worth(bound) - target, 0.01) / norm;
  for (std::size_t i = 0; i < down.size(); ++i) {
    double& x = step.values[i];
    x -= length * step.direction[i];
    if (x < 0 && !layout_.free_sign(static_cast<int>(i))) x = 0;
  }
}

std::int64_t Bounder::improve(const Root& root, std::vector<double>& values, const Tuning& tuning,
                              std::int64_t goal, double hope, std::int64_t allowance, Meter& meter) {
  const std::int64_t end = meter.steps() + allowance;
  const bool pooled = completion_.pattern_count() > 3000;
  const Sweep full = pooled ? Sweep::choose : Sweep::whole;
  const Sweep quick = pooled ? Sweep::pool : Sweep::whole;
  std::int64_t best = evaluate(root, values, full, tuning.fine, meter);
  if (best == no_bound) {
    values = layout_.start(relaxed_, 1.0);
    best = evaluate(root, values, full, tuning.fine, meter);
  }
  Step step{values, std::vector<double>(values.size(), 0.0), tuning.theta};
  for (int cycle = 0; cycle < tuning.cycles && step.theta >= tuning.least; ++cycle) {
    if (best < goal || meter.out() || meter.steps() > end) break;
    std::int64_t local = no_bound;
    std::vector<double> local_values = step.values;
    std::int64_t now = evaluate(root, step.values, cycle > 0 ? quick : full, tuning.fine, meter);
    for (int i = 0; i < tuning.cycle && now < no_bound && !meter.stopped(); ++i) {
      const double best_worth = scale_.to_worth(std::min(best, now));
      move(root, step, now, std::max(hope + 0.5, best_worth - 0.08 * std::max(best_worth, -best_worth)));
      now = evaluate(root, step.values, quick, tuning.fine, meter);
      if (now < local) local = now, local_values = step.values;
    }
    if (pooled && local < best) local = evaluate(root, local_values, full, tuning.fine, meter);
    if (local < best) {
      best = local;
      values = local_values;
    } else {
      step.theta *= tuning.decay;
      step.values = values;
      std::fill(step.direction.begin(), step.direction.end(), 0.0);
    }
  }
  return best;
}

}  // namespace fettlefund::budgets::search
