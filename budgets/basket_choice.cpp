#include "budgets/basket_choice.hpp"

#include <algorithm>

// Branch and bound. An order (payday, supplier) whose delivery charge is still open is in one of these
// states; at a node every wanted thing takes its best way among those allowed, charges not yet decided count
// as zero, and the resulting figure is a lower bound because all figures are compared in one order (money,
// then money by payday, then offers) that adding the same to both sides does not change.

namespace fettlefund::budgets {
namespace {

__extension__ using Wide = __int128;

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
  int fixed = -1;          ///< way decided by branching, or -1
};

/// What a choice comes to. Ordered: less is better.
struct Figure {
  std::int64_t total = 0;
  std::vector<std::int64_t> by_payday;  ///< extra money from the earliest payday concerned on
  std::vector<int> offers;
  friend auto operator<=>(const Figure&, const Figure&) = default;
};

/// Dearer goods against what they add to an order.
struct Rate {
  std::int64_t extra = 0;
  std::int64_t gain = 0;
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
  bool allowed(const Item& item, int way) const {
    return (item.fixed < 0 || item.fixed == way) && groups_[item.group[way]].fate != Fate::unused;
  }
  bool before(const Item& item, int a, int b) const;
  bool pick();
  void tally();
  Figure figure(bool optimistic) const;
  std::int64_t optimistic_charge(std::size_t group) const;
  bool lacks(std::size_t g) const {
    return groups_[g].fate == Fate::free && goods_[g] < groups_[g].free_from;
  }
  std::int64_t most_gain(const Item& item, int way, std::size_t group) const;
  void better_rate(const Item& item, int way, std::size_t group, Rate& rate) const;
  std::int64_t least_extra() const;
  std::int64_t extra_for(std::size_t group, std::int64_t lacking) const;
  void search();
  void branch_group(std::size_t group);
  void branch_item(std::size_t group);

  std::vector<Group> groups_;
  std::vector<Item> items_;
  int first_payday_ = 0;
  int last_payday_ = 0;
  std::vector<int> ways_;            ///< choice at the node
  std::vector<std::int64_t> goods_;  ///< by group, at the node
  std::vector<char> used_;           ///< by group, at the node
  std::vector<int> best_ways_;
  Figure best_;
  bool found_ = false;
};

Choice::Choice(const ProblemData& data, const std::vector<OpenOrder>& placed,
               const std::vector<Wanted>& wanted) {
  for (const Wanted& want : wanted) {
    Item item{want.ways, want.packs, {}, -1};
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

/// Of the choice at the node, with the true charges or with those decided so far.
Figure Choice::figure(bool optimistic) const {
  Figure result;
  result.by_payday.assign(last_payday_ - first_payday_ + 1, 0);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    const std::int64_t charge =
        optimistic ? optimistic_charge(g) : groups_[g].charge(goods_[g], used_[g] != 0);
    const std::int64_t money = goods_[g] + charge;
    result.total += money;
    result.by_payday[groups_[g].stage - first_payday_] += money;
  }
  result.offers.reserve(items_.size());
  for (std::size_t i = 0; i < items_.size(); ++i) result.offers.push_back((*items_[i].ways)[ways_[i]].offer);
  return result;
}

/// The most that deciding the item otherwise could add to the group's goods.
std::int64_t Choice::most_gain(const Item& item, int way, std::size_t group) const {
  const std::int64_t here = item.group[way] == static_cast<int>(group) ? price(item, way) : 0;
  std::int64_t most = 0;
  for (int w = 0; w < static_cast<int>(item.ways->size()); ++w) {
    if (item.group[w] == static_cast<int>(group) && allowed(item, w))
      most = std::max(most, price(item, w) - here);
  }
  return most;
}

/// Offers the rate at which the item's ways could add to the group's goods, if it is better than `rate`.
void Choice::better_rate(const Item& item, int way, std::size_t group, Rate& rate) const {
  const std::int64_t now = price(item, way);
  const std::int64_t here = item.group[way] == static_cast<int>(group) ? now : 0;
  for (int w = 0; w < static_cast<int>(item.ways->size()); ++w) {
    if (item.group[w] != static_cast<int>(group) || !allowed(item, w)) continue;
    const std::int64_t gain = price(item, w) - here;
    const std::int64_t extra = price(item, w) - now;
    if (gain <= 0) continue;
    if (rate.gain == 0 || Wide{extra} * rate.gain < Wide{rate.extra} * gain) rate = {extra, gain};
  }
}

/// A lower bound on the extra money for goods that brings `lacking` more to the group: all of it at the best
/// rate of any item. -1 if the items cannot bring that much.
std::int64_t Choice::extra_for(std::size_t group, std::int64_t lacking) const {
  std::int64_t reach = 0;
  Rate rate;
  for (std::size_t i = 0; i < items_.size(); ++i) {
    reach += most_gain(items_[i], ways_[i], group);
    better_rate(items_[i], ways_[i], group, rate);
  }
  if (reach < lacking) return -1;
  return static_cast<std::int64_t>((Wide{lacking} * rate.extra + rate.gain - 1) / rate.gain);
}

/// A lower bound on what the decided free deliveries make the goods dearer; -1 if they cannot be reached.
std::int64_t Choice::least_extra() const {
  std::int64_t least = 0;
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (!lacks(g)) continue;
    const std::int64_t extra = extra_for(g, groups_[g].free_from - goods_[g]);
    if (extra < 0) return -1;
    least = std::max(least, extra);
  }
  return least;
}

void Choice::search() {
  if (!pick()) return;
  const Figure bound = figure(true);
  if (found_ && bound >= best_) return;
  const std::int64_t extra = least_extra();
  if (extra < 0 || (found_ && bound.total + extra > best_.total)) return;
  Figure actual = figure(false);
  if (!found_ || actual < best_) {
    best_ = std::move(actual);
    best_ways_ = ways_;
    found_ = true;
  }
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    if (lacks(g)) return branch_item(g);
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

/// Decides the item that can bring most to the group.
void Choice::branch_item(std::size_t group) {
  std::size_t chosen = 0;
  std::int64_t most = 0;
  for (std::size_t i = 0; i < items_.size(); ++i) {
    const std::int64_t gain = most_gain(items_[i], ways_[i], group);
    if (gain > most) most = gain, chosen = i;
  }
  Item& item = items_[chosen];
  std::vector<int> order;
  for (int w = 0; w < static_cast<int>(item.ways->size()); ++w) {
    if (allowed(item, w)) order.push_back(w);
  }
  std::sort(order.begin(), order.end(), [&](int a, int b) { return before(item, a, b); });
  for (int w : order) {
    item.fixed = w;
    search();
  }
  item.fixed = -1;
}

}  // namespace

std::vector<int> choose_ways(const ProblemData& data, const std::vector<OpenOrder>& placed,
                             const std::vector<Wanted>& wanted) {
  const bool single =
      std::all_of(wanted.begin(), wanted.end(), [](const Wanted& w) { return w.ways->size() == 1; });
  if (single) return std::vector<int>(wanted.size(), 0);
  return Choice(data, placed, wanted).best();
}

}  // namespace fettlefund::budgets
