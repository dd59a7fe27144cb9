#include "budgets/costing/basket_choice.hpp"

#include <algorithm>
#include <numeric>

#include "budgets/costing/basket_cover.hpp"

// Branch and bound. The delivery charge of an order (payday, supplier) is decided: paid, free (its goods must
// then reach the free-from amount), or nothing is ordered there. A node takes the best choice that its
// decisions allow, with charges not yet decided counted as zero: exact by itself, so a lower bound, because
// figures are compared in one order (money, then money by payday, then offers) that adding the same to both
// sides does not change.

namespace fettlefund::budgets {
namespace {

enum class Fate {
  open,    ///< not decided: charged nothing
  unused,  ///< nothing is bought here
  paying,  ///< delivery is paid
  free     ///< the goods must reach the free-from amount
};

struct Group {
  int stage = 0;
  int supplier = 0;
  std::int64_t placed = 0;  ///< goods already ordered
  bool exists = false;      ///< an order has been placed before
  std::int64_t delivery = 0;
  std::int64_t free_from = -1;  ///< -1: never free
  Fate fate = Fate::open;

  bool reaches(std::int64_t goods) const { return free_from >= 0 && goods >= free_from; }
  std::int64_t charge(std::int64_t goods, bool used) const { return used && !reaches(goods) ? delivery : 0; }
};

struct Item {
  const std::vector<Way>* ways = nullptr;
  std::int64_t packs = 1;
  std::vector<int> group;  ///< one entry a way
};

/// What a choice comes to. Ordered: less is better.
struct ChoiceCost {
  std::int64_t total = 0;
  std::vector<std::int64_t> by_payday;  ///< extra money from the earliest payday concerned on
  std::vector<int> offers;
  friend auto operator<=>(const ChoiceCost&, const ChoiceCost&) = default;
};

class Choice {
 public:
  Choice(const ProblemData& data, const std::vector<OpenOrder>& placed, const std::vector<Wanted>& wanted);
  std::vector<int> best() {
    search();
    return best_ways_;
  }

 private:
  int group_of(const ProblemData& data, const std::vector<OpenOrder>& placed, const Way& way);
  std::int64_t price(const Item& item, int way) const { return (*item.ways)[way].price.minor() * item.packs; }
  bool allowed(const Item& item, int way) const { return groups_[item.group[way]].fate != Fate::unused; }
  bool before(const Item& item, int a, int b) const;
  bool pick();
  void tally();
  ChoiceCost figure(bool optimistic) const;
  std::int64_t money(std::size_t group, bool optimistic) const;
  std::int64_t total(bool optimistic) const;
  bool beats(bool optimistic) const;
  std::int64_t optimistic_charge(std::size_t group) const;
  bool lacks() const;
  bool meet_goals(std::int64_t most);
  void search();
  void branch_group(std::size_t group);

  std::vector<Group> groups_;
  std::vector<Item> items_;
  int first_payday_ = 0;
  int last_payday_ = 0;
  std::vector<int> ways_;            ///< choice at the node
  std::vector<std::int64_t> goods_;  ///< by group, at the node
  std::vector<char> used_;           ///< by group, at the node
  std::vector<int> best_ways_;
  ChoiceCost best_;
  bool found_ = false;
};

Choice::Choice(const ProblemData& data, const std::vector<OpenOrder>& placed,
               const std::vector<Wanted>& wanted) {
  for (const Wanted& want : wanted) {
    Item item{want.ways, want.packs, {}};
    for (const Way& way : *want.ways) item.group.push_back(group_of(data, placed, way));
    items_.push_back(std::move(item));
  }
  first_payday_ = last_payday_ = groups_.front().stage;
  for (const Group& group : groups_) {
    first_payday_ = std::min(first_payday_, group.stage);
    last_payday_ = std::max(last_payday_, group.stage);
  }
}

int Choice::group_of(const ProblemData& data, const std::vector<OpenOrder>& placed, const Way& way) {
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (groups_[g].stage == way.stage && groups_[g].supplier == way.supplier) return static_cast<int>(g);
  }
  const Supplier& supplier = data.suppliers[way.supplier];
  Group group{way.stage, way.supplier};
  group.delivery = supplier.delivery.minor();
  if (supplier.free_from) group.free_from = supplier.free_from->minor();
  for (const OpenOrder& order : placed) {
    if (order.stage != way.stage || order.supplier != way.supplier) continue;
    group.exists = true;
    group.placed = order.goods.minor();
  }
  // Where nothing can change the charge any more it is no decision.
  const bool settled = group.delivery == 0 || group.reaches(group.placed);
  if (settled) group.delivery = 0;
  if (settled || (group.exists && group.free_from < 0)) group.fate = Fate::paying;
  groups_.push_back(group);
  return static_cast<int>(groups_.size()) - 1;
}

/// Whether way a of the item alone, deliveries apart, is better than way b.
bool Choice::before(const Item& item, int a, int b) const {
  const std::int64_t price_a = price(item, a);
  const std::int64_t price_b = price(item, b);
  if (price_a != price_b) return price_a < price_b;
  const Way& way_a = (*item.ways)[a];
  const Way& way_b = (*item.ways)[b];
  if (way_a.stage != way_b.stage && price_a != 0) return way_a.stage > way_b.stage;
  return way_a.offer < way_b.offer;
}

/// Gives every item its best allowed way; false if one has none.
bool Choice::pick() {
  ways_.assign(items_.size(), -1);
  for (std::size_t i = 0; i < items_.size(); ++i) {
    const Item& item = items_[i];
    for (int w = 0; w < static_cast<int>(item.ways->size()); ++w) {
      if (allowed(item, w) && (ways_[i] < 0 || before(item, w, ways_[i]))) ways_[i] = w;
    }
    if (ways_[i] < 0) return false;
  }
  tally();
  return true;
}

void Choice::tally() {
  goods_.assign(groups_.size(), 0);
  used_.assign(groups_.size(), 0);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    goods_[g] = groups_[g].placed;
    used_[g] = groups_[g].exists;
  }
  for (std::size_t i = 0; i < items_.size(); ++i) {
    const int g = items_[i].group[ways_[i]];
    goods_[g] += price(items_[i], ways_[i]);
    used_[g] = 1;
  }
}

std::int64_t Choice::optimistic_charge(std::size_t group) const {
  return groups_[group].fate == Fate::paying ? groups_[group].delivery : 0;
}

/// What an order of the choice at the node comes to, with the true charge or with what is decided so far.
std::int64_t Choice::money(std::size_t group, bool optimistic) const {
  return goods_[group] +
         (optimistic ? optimistic_charge(group) : groups_[group].charge(goods_[group], used_[group] != 0));
}

std::int64_t Choice::total(bool optimistic) const {
  std::int64_t sum = 0;
  for (std::size_t g = 0; g < groups_.size(); ++g) sum += money(g, optimistic);
  return sum;
}

/// Whether the choice at the node is better than the best; mostly its sum tells.
bool Choice::beats(bool optimistic) const {
  if (!found_) return true;
  const std::int64_t sum = total(optimistic);
  return sum != best_.total ? sum < best_.total : figure(optimistic) < best_;
}

/// Of the choice at the node, with the true charges or with those decided so far.
ChoiceCost Choice::figure(bool optimistic) const {
  ChoiceCost result;
  result.by_payday.assign(last_payday_ - first_payday_ + 1, 0);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    const std::int64_t sum = money(g, optimistic);
    result.total += sum;
    result.by_payday[groups_[g].stage - first_payday_] += sum;
  }
  result.offers.reserve(items_.size());
  for (std::size_t i = 0; i < items_.size(); ++i) result.offers.push_back((*items_[i].ways)[ways_[i]].offer);
  return result;
}

/// Whether the choice misses a free-from amount that it has to reach.
bool Choice::lacks() const {
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (groups_[g].fate == Fate::free && goods_[g] < groups_[g].free_from) return true;
  }
  return false;
}

/// Replaces the choice by the best that reaches all free-from amounts it has to, at no more than `most` for
/// the goods; false if there is none. A thing either keeps its best way or goes to an order that shall be
/// free.
bool Choice::meet_goals(std::int64_t most) {
  CoverTask task;
  std::vector<int> goal_of(groups_.size(), -1);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (groups_[g].fate != Fate::free) continue;
    goal_of[g] = static_cast<int>(task.goals.size());
    task.goals.push_back(std::max<std::int64_t>(0, groups_[g].free_from - groups_[g].placed));
  }
  task.paydays = last_payday_ - first_payday_ + 1;
  task.most = most;
  std::vector<std::vector<int>> way_of(items_.size());
  for (std::size_t i = 0; i < items_.size(); ++i) {
    const Item& item = items_[i];
    auto& ways = task.things.emplace_back();
    for (int w = 0; w < static_cast<int>(item.ways->size()); ++w) {
      const int goal = goal_of[item.group[w]];
      if (w != ways_[i] && goal < 0) continue;
      const Way& way = (*item.ways)[w];
      ways.push_back({price(item, w), way.stage - first_payday_, goal, way.offer});
      way_of[i].push_back(w);
    }
  }
  const auto chosen = cover(task);
  if (!chosen) return false;
  for (std::size_t i = 0; i < items_.size(); ++i) ways_[i] = way_of[i][(*chosen)[i]];
  tally();
  return true;
}

void Choice::search() {
  if (!pick() || !beats(true)) return;
  if (lacks()) {
    const std::int64_t goods =
        std::accumulate(ways_.begin(), ways_.end(), std::int64_t{0}, [&, i = 0](auto sum, int w) mutable {
          return sum + price(items_[static_cast<std::size_t>(i++)], w);
        });
    if (!meet_goals(found_ ? goods + best_.total - total(true) : kMostMoney) || !beats(true)) return;
  }
  if (beats(false)) {
    best_ = figure(false);
    best_ways_ = ways_;
    found_ = true;
  }
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (groups_[g].fate == Fate::open && groups_[g].charge(goods_[g], used_[g] != 0) > 0)
      return branch_group(g);
  }
}

void Choice::branch_group(std::size_t group) {
  const auto decide = [&](Fate fate) {
    groups_[group].fate = fate;
    search();
  };
  decide(Fate::paying);
  if (!groups_[group].exists) decide(Fate::unused);
  if (groups_[group].free_from >= 0) decide(Fate::free);
  groups_[group].fate = Fate::open;
}

}  // namespace

std::vector<int> choose_ways(const ProblemData& data, const std::vector<OpenOrder>& placed,
                             const std::vector<Wanted>& wanted) {
  // What can only be had in one way is as good as ordered.
  std::vector<OpenOrder> orders = placed;
  std::vector<Wanted> open;
  for (const Wanted& want : wanted) {
    if (want.ways->size() > 1) {
      open.push_back(want);
      continue;
    }
    const Way& way = want.ways->front();
    const auto same = std::find_if(orders.begin(), orders.end(), [&](const OpenOrder& o) {
      return o.stage == way.stage && o.supplier == way.supplier;
    });
    const Money goods = way.price * want.packs;
    if (same != orders.end()) {
      same->goods += goods;
    } else {
      orders.push_back({way.stage, way.supplier, goods});
    }
  }
  std::vector<int> ways(wanted.size(), 0);
  if (open.empty()) return ways;
  const std::vector<int> chosen = Choice(data, orders, open).best();
  auto next = chosen.begin();
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (wanted[i].ways->size() > 1) ways[i] = *next++;
  }
  return ways;
}

}  // namespace fettlefund::budgets
