#include "budgets/search/bound/patterns.hpp"

#include <algorithm>
#include <limits>

namespace fettlefund::budgets::search {
namespace {

/// Far below every profit that matters, and small enough that adding two of them stays in 32 bits.
constexpr std::int32_t worthless = -(1 << 29);
constexpr std::int32_t pool_limit = 4000;

std::int32_t clip(std::int64_t profit) {
  return static_cast<std::int32_t>(std::max<std::int64_t>(profit, worthless));
}

/// Profit of a set, less what that part of its cost takes that its level leaves out.
std::int32_t less_rest(std::int32_t profit, std::int64_t rest, const Prices& prices, int stage) {
  return clip(profit - prices.worth_of(rest, stage));
}

/// Depth-first enumeration.
class Enumeration {
 public:
  Enumeration(const Relaxed& relaxed, const Scale& scale, int shift, std::int32_t limit, PatternTree& out)
      : relaxed_(relaxed), scale_(scale), shift_(shift), limit_(limit), out_(out) {
    most_cost_ = relaxed.caps.empty() ? 0 : relaxed.caps.back();
    for (const Stage& stage : relaxed.model->data().stages) {
      most_minutes_ = std::max(most_minutes_, stage.minutes);
    }
    open_.assign(relaxed.charges.size(), 0);
    taken_.assign(relaxed.model->group_count(), 0);
    for (int u = 0; u < relaxed.units; ++u) {
      const auto& unit = relaxed.model->units()[u];
      bool any = false;
      for (int t = std::max(unit.first, 0); t <= unit.last; ++t) any |= relaxed.model->allowed(u, t);
      if (any) units_.push_back(u);
    }
  }

  bool run() {
    out_.add(0, -1, 0, 0, 0, 0);
    return visit(0, 0, 0, 0);
  }

 private:
  bool visit(std::size_t next, std::int32_t parent, std::int64_t cost, std::int64_t minutes);
  bool group_is_taken(int unit) const {
    const auto& groups = relaxed_.model->units()[unit].groups;
    return std::any_of(groups.begin(), groups.end(), [&](int g) { return taken_[g]; });
  }

  const Relaxed& relaxed_;
  const Scale& scale_;
  int shift_;
  std::int32_t limit_;
  PatternTree& out_;
  std::int64_t most_cost_ = 0;
  std::int64_t most_minutes_ = 0;
  std::vector<int> open_;
  std::vector<char> taken_;
  std::vector<int> units_;
};

bool Enumeration::visit(std::size_t next, std::int32_t parent, std::int64_t cost, std::int64_t minutes) {
  for (std::size_t i = next; i < units_.size(); ++i) {
    const int u = units_[i];
    if (group_is_taken(u)) continue;
    std::int64_t c = cost + relaxed_.least_cost[u];
    std::int64_t m = minutes + relaxed_.minutes[u];
    std::int64_t bother = 0;
    for (int e : relaxed_.charges_of[u]) {
      if (open_[e] != 0) continue;
      c += relaxed_.charges[e].cost;
      m += relaxed_.charges[e].minutes;
      bother += scale_.down(relaxed_.charges[e].worth);
    }
    if (c > most_cost_ || m > most_minutes_) continue;
    if (out_.size() >= limit_) return false;
    const std::int32_t node = out_.size();
    const std::int64_t level = c >> shift_;
    const auto rest = std::min<std::int64_t>(c - (level << shift_), std::numeric_limits<std::int32_t>::max());
    out_.add(parent, u, static_cast<std::int32_t>(level), -clip(-bother), m, static_cast<std::int32_t>(rest));
    for (int e : relaxed_.charges_of[u]) ++open_[e];
    for (int g : relaxed_.model->units()[u].groups) taken_[g] = 1;
    const bool room = visit(i + 1, node, c, m);
    for (int e : relaxed_.charges_of[u]) --open_[e];
    for (int g : relaxed_.model->units()[u].groups) taken_[g] = 0;
    if (!room) return false;
  }
  return true;
}

}  // namespace

void PatternTree::clear() {
  parent.clear();
  unit.clear();
  level.clear();
  bother.clear();
  minutes.clear();
  rest.clear();
}

void PatternTree::add(std::int32_t p, std::int32_t u, std::int32_t l, std::int32_t b, std::int64_t m,
                      std::int32_t r) {
  parent.push_back(p);
  unit.push_back(u);
  level.push_back(l);
  bother.push_back(b);
  minutes.push_back(m);
  rest.push_back(r);
}

PatternList::PatternList(const Relaxed& relaxed, const Scale& scale, int shift, std::int32_t limit)
    : relaxed_(relaxed), pools_(relaxed.stages), reach_(relaxed.stages, 0) {
  complete_ = Enumeration(relaxed, scale, shift, limit, all_).run();
  if (!complete_) all_ = PatternTree();
}

std::int64_t PatternList::sweep_cost(int stage, Sweep sweep) const {
  return tree(stage, sweep).size() * (sweep == Sweep::choose ? 3 : 2);
}

/// On the axis a set takes the least cost of its units; what they cost more in this stage is priced.
std::int64_t PatternList::gain_of(int unit, int stage, const Prices& prices) const {
  const std::int64_t profit = prices.profit[stage * relaxed_.units + unit];
  if (profit == Prices::barred) return profit;
  const std::int64_t more = relaxed_.cost_at(unit, stage) - relaxed_.least_cost[unit];
  return profit - prices.worth_of(std::min(more, std::max<std::int64_t>(0, relaxed_.caps.back()) + 1), stage);
}

void PatternList::price(const PatternTree& tree, int stage, const Prices& prices, std::int32_t cap_level) {
  const std::int64_t hours = relaxed_.model->data().stages[stage].minutes;
  std::vector<std::int32_t> gain(relaxed_.units);
  for (int u = 0; u < relaxed_.units; ++u) gain[u] = clip(gain_of(u, stage, prices));
  profit_.resize(tree.size());
  profit_[0] = 0;
  best_.assign(cap_level + 1, {0, worthless, 0});
  best_[0] = {0, 0, 0};
  for (std::int32_t i = 1; i < tree.size(); ++i) {
    const std::int32_t profit =
        std::max(worthless, profit_[tree.parent[i]] + gain[tree.unit[i]] - tree.bother[i]);
    const std::int32_t level = tree.level[i];
    if (tree.minutes[i] > hours || level > cap_level) {
      profit_[i] = worthless;
      continue;
    }
    profit_[i] = profit;
    const std::int32_t whole = less_rest(profit, tree.rest[i], prices, stage);
    if (whole > best_[level].profit) best_[level] = {level, whole, i};
  }
}

void PatternList::frontier(int stage, const Prices& prices, std::int32_t cap_level, Sweep sweep,
                           std::vector<FrontierPoint>& out) {
  price(tree(stage, sweep), stage, prices, cap_level);
  out.clear();
  for (const FrontierPoint& point : best_) {
    if (out.empty() || point.profit > out.back().profit) out.push_back(point);
  }
  if (sweep == Sweep::choose) choose_pool(stage, prices);
}

/// Keeps the sets that come close to the frontier, with all their parents. How close is adapted, so that the
/// next time about as many are kept as is useful.
void PatternList::choose_pool(int stage, const Prices& prices) {
  std::int32_t running = 0;
  for (FrontierPoint& point : best_) point.profit = running = std::max(running, point.profit);
  std::int32_t& reach = reach_[stage];
  if (reach == 0) reach = std::max(running / 16, 16);
  kept_.assign(all_.size(), 0);
  kept_[0] = 1;
  std::int32_t count = 0;
  for (std::int32_t i = 1; i < all_.size(); ++i) {
    if (profit_[i] == worthless) continue;
    if (best_[all_.level[i]].profit - less_rest(profit_[i], all_.rest[i], prices, stage) > reach) continue;
    ++count;
    for (std::int32_t k = i; !kept_[k]; k = all_.parent[k]) kept_[k] = 1;
  }
  if (count > pool_limit) reach -= reach / 3;
  if (count < pool_limit / 4 && reach < -(worthless / 2)) reach += reach / 2;
  new_index_.resize(all_.size());
  PatternTree& pool = pools_[stage];
  pool.clear();
  for (std::int32_t i = 0; i < all_.size(); ++i) {
    if (!kept_[i]) continue;
    new_index_[i] = pool.size();
    pool.add(new_index_[all_.parent[i]], all_.unit[i], all_.level[i], all_.bother[i], all_.minutes[i],
             all_.rest[i]);
  }
}

std::vector<int> PatternList::units(int stage, Sweep sweep, std::int32_t node) const {
  const PatternTree& from = tree(stage, sweep);
  std::vector<int> found;
  for (; node != 0; node = from.parent[node]) found.push_back(from.unit[node]);
  return found;
}

}  // namespace fettlefund::budgets::search
