#include "budgets/search/bound/knapsack.hpp"

#include <algorithm>
#include <map>

#include "budgets/search/bound/kernel.hpp"

namespace fettlefund::budgets::search {
namespace {

/// The more units, the more arrays there are at any rate.
std::int64_t state_limit(int units) { return std::clamp(80'000 / std::max(units, 1), 100, 2000); }

/// First and last place of each charge in an order of units.
struct Span {
  int first = -1;
  int last = -1;
};

std::vector<Span> find_spans(const std::vector<std::vector<int>>& charges_of, const std::vector<int>& order,
                             std::size_t charges) {
  std::vector<Span> spans(charges);
  for (int i = 0; i < static_cast<int>(order.size()); ++i) {
    for (int e : charges_of[order[i]]) {
      if (spans[e].first < 0) spans[e].first = i;
      spans[e].last = i;
    }
  }
  return spans;
}

}  // namespace

StageKnapsack::StageKnapsack(const Relaxed& relaxed, const Scale& scale)
    : relaxed_(relaxed), scale_(scale), charges_of_(relaxed.charges_of), shared_(relaxed.charges.size(), 0) {
  for (int e = 0; e < static_cast<int>(relaxed.charges.size()); ++e) {
    if (relaxed.charges[e].cost == 0 && relaxed.charges[e].worth == 0) share(e);
  }
  for (;;) {
    const std::vector<int> order = order_units();
    if (build(order, state_limit(relaxed.units))) break;
    share(widest(order));
  }
}

/// Next the unit that leaves the fewest charges both begun and unfinished; among equals the lowest index.
std::vector<int> StageKnapsack::order_units() const {
  std::vector<int> left(relaxed_.charges.size(), 0);
  for (const auto& charges : charges_of_) {
    for (int e : charges) ++left[e];
  }
  std::vector<char> begun(left.size(), 0);
  std::vector<char> placed(relaxed_.units, 0);
  std::vector<int> order;
  for (int i = 0; i < relaxed_.units; ++i) {
    int best = -1;
    int best_change = 0;
    for (int u = 0; u < relaxed_.units; ++u) {
      if (placed[u]) continue;
      int change = 0;
      for (int e : charges_of_[u]) change += (begun[e] ? 0 : 1) - (left[e] == 1 ? 1 : 0);
      if (best < 0 || change < best_change) best = u, best_change = change;
    }
    placed[best] = 1;
    order.push_back(best);
    for (int e : charges_of_[best]) begun[e] = 1, --left[e];
  }
  return order;
}

/// The charge that is remembered over the most units for the least money.
int StageKnapsack::widest(const std::vector<int>& order) const {
  const auto spans = find_spans(charges_of_, order, relaxed_.charges.size());
  int best = -1;
  double best_rate = 0;
  for (int e = 0; e < static_cast<int>(spans.size()); ++e) {
    const int span = spans[e].last - spans[e].first;
    const double rate = span / (1.0 + static_cast<double>(relaxed_.charges[e].cost));
    if (span > 0 && (best < 0 || rate > best_rate)) best = e, best_rate = rate;
  }
  return best;
}

void StageKnapsack::share(int charge) {
  shared_[charge] = 1;
  for (auto& charges : charges_of_)
    charges.erase(std::remove(charges.begin(), charges.end(), charge), charges.end());
}

std::vector<int> StageKnapsack::shared_charges() const {
  std::vector<int> charges;
  for (int e = 0; e < static_cast<int>(shared_.size()); ++e) {
    if (shared_[e]) charges.push_back(e);
  }
  return charges;
}

/// Lists for each step the sets of charges that may be open and still matter. False if they are too many.
bool StageKnapsack::build(const std::vector<int>& order, std::int64_t limit) {
  const auto spans = find_spans(charges_of_, order, relaxed_.charges.size());
  using Set = std::vector<int>;
  std::map<Set, int> here{{Set(), 0}};
  steps_.clear();
  state_count_ = 0;
  for (int i = 0; i < static_cast<int>(order.size()); ++i) {
    const int u = order[i];
    Step step{u, std::vector<State>(here.size())};
    std::map<Set, int> next;
    const auto enter = [&](Set set) {
      set.erase(std::remove_if(set.begin(), set.end(), [&](int e) { return spans[e].last <= i; }), set.end());
      return next.emplace(std::move(set), static_cast<int>(next.size())).first->second;
    };
    for (const auto& [set, index] : here) {
      State& state = step.states[index];
      state.skip = enter(set);
      Set with = set;
      for (int e : charges_of_[u]) {
        if (std::binary_search(set.begin(), set.end(), e)) continue;
        with.push_back(e);
        state.cost += relaxed_.charges[e].cost;
        state.bother += scale_.down(relaxed_.charges[e].worth);
        state.minutes += relaxed_.charges[e].minutes;
      }
      std::sort(with.begin(), with.end());
      state.take = enter(std::move(with));
    }
    state_count_ += static_cast<std::int64_t>(here.size());
    if (state_count_ > limit + relaxed_.units) return false;
    steps_.push_back(std::move(step));
    here = std::move(next);
  }
  return true;
}

std::int32_t StageKnapsack::fresh(std::int32_t size) {
  if (free_.empty()) {
    free_.push_back(static_cast<std::int32_t>(arrays_.size()));
    arrays_.emplace_back();
  }
  const std::int32_t index = free_.back();
  free_.pop_back();
  if (arrays_[index].size() < static_cast<std::size_t>(size)) arrays_[index].resize(size);
  return index;
}

void StageKnapsack::fill_step(int i, int stage, const Prices& prices, int shift, std::int32_t size) {
  const Step& step = steps_[i];
  const auto& next = cells_[i + 1];
  cells_[i].resize(step.states.size());
  const int place = stage * relaxed_.units + step.unit;
  const std::int64_t profit = prices.profit[place] - (prices.shares.empty() ? 0 : prices.shares[place]);
  for (std::size_t s = 0; s < step.states.size(); ++s) {
    const State& state = step.states[s];
    Cell& cell = cells_[i][s];
    const Cell& skip = next[state.skip];
    cell = {skip.array, skip.values, 0, false};
    if (profit <= 0) continue;
    const std::int64_t cost = relaxed_.cost_at(step.unit, stage) + state.cost;
    const std::int64_t level = cost >> shift;
    const std::int64_t gain = profit - state.bother - prices.minute_price[stage] * state.minutes -
                              prices.worth_of(cost - (level << shift), stage);
    // A loss may pay where charges are opened that later units share.
    if ((gain <= 0 && state.take == state.skip) || level >= size) continue;
    const std::int32_t index = fresh(size);
    std::int32_t* values = arrays_[index].data();
    blend(values, skip.values, next[state.take].values + level,
          static_cast<std::int32_t>(std::max<std::int64_t>(gain, never / 2)), size - level);
    std::copy(skip.values + size - level, skip.values + size, values + size - level);
    work_ += size / 6 + 30;
    cell = {index, values, static_cast<std::int32_t>(level), true};
  }
}

/// Frees the arrays of step i + 1 that step i does not go on with: a small set of arrays stays in the cache.
void StageKnapsack::free_unused(int i) {
  mark_.resize(arrays_.size());
  for (const Cell& cell : cells_[i + 1]) {
    if (cell.array >= 0) mark_[cell.array] = 1;
  }
  for (const Cell& cell : cells_[i]) {
    if (cell.array >= 0) mark_[cell.array] = 0;
  }
  for (const Cell& cell : cells_[i + 1]) {
    if (cell.array < 0 || mark_[cell.array] == 0) continue;
    mark_[cell.array] = 0;
    free_.push_back(cell.array);
  }
}

void StageKnapsack::run(int stage, const Prices& prices, int shift, std::int32_t size,
                        const std::int32_t* after, bool keep_all) {
  free_.clear();
  work_ = 6 * state_count_;
  for (auto i = static_cast<std::int32_t>(arrays_.size()); i-- > 0;) free_.push_back(i);
  cells_.resize(steps_.size() + 1);
  cells_.back().assign(1, Cell{-1, after, 0, false});
  for (int i = static_cast<int>(steps_.size()) - 1; i >= 0; --i) {
    fill_step(i, stage, prices, shift, size);
    if (!keep_all) free_unused(i);
  }
}

void StageKnapsack::extend(int stage, const Prices& prices, int shift, std::int32_t cap_level,
                           const std::vector<std::int32_t>& after, std::vector<std::int32_t>& table) {
  run(stage, prices, shift, cap_level + 1, after.data(), false);
  table.assign(cells_[0][0].values, cells_[0][0].values + cap_level + 1);
}

std::vector<int> StageKnapsack::trace(int stage, const Prices& prices, int shift, std::int32_t cap_level,
                                      const std::vector<std::int32_t>& after, std::int32_t level,
                                      std::int32_t& reached) {
  run(stage, prices, shift, cap_level + 1 - level, after.data() + level, true);
  std::vector<int> taken;
  int s = 0;
  std::int32_t at = 0;
  for (std::size_t i = 0; i < steps_.size(); ++i) {
    const State& state = steps_[i].states[s];
    const Cell& cell = cells_[i][s];
    if (!cell.open || cell.values[at] == cells_[i + 1][state.skip].values[at]) {
      s = state.skip;
      continue;
    }
    taken.push_back(steps_[i].unit);
    at += cell.level;
    s = state.take;
  }
  reached = level + at;
  return taken;
}

}  // namespace fettlefund::budgets::search
