#include <algorithm>
#include <limits>

#include "budgets/search/relaxed/relaxed.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max();

/// Who needs each article, how much all of them together, and whether always in whole packs.
struct Consumers {
  std::vector<int> units;  ///< by themselves
  int removals = 0;
  Quantity total = 0;
  bool whole_packs = true;
  void add(const Need& need, Quantity pack, int times) {
    total += need.amount * times;
    whole_packs &= need.amount % pack == 0;
  }
};

std::vector<Consumers> find_consumers(const Model& model) {
  const ProblemData& data = model.data();
  std::vector<Consumers> found(data.articles.size());
  const auto pack = [&](const Need& need) { return data.articles[need.article].pack; };
  for (int u = 0; u < model.unit_count(); ++u) {
    for (const Need& n : model.units()[u].needs) {
      found[n.article].add(n, pack(n), 1);
      found[n.article].units.push_back(u);
    }
  }
  for (const Removal& removal : data.removals) {
    for (const Need& n : removal.one_use) {
      found[n.article].add(n, pack(n), model.stage_count());
      ++found[n.article].removals;
    }
  }
  return found;
}

bool sometimes_free(const Tool& tool) {
  return std::find(tool.free.begin(), tool.free.end(), 1) != tool.free.end();
}

}  // namespace

RelaxedGoods::RelaxedGoods(const Model& model) : model_(model), delivery_(model) {
  find_uses();
  find_tools();
  find_deliveries();
  note_exactness();
}

void RelaxedGoods::find_uses() {
  const auto consumers = find_consumers(model_);
  for (std::size_t a = 0; a < consumers.size(); ++a) {
    const Consumers& c = consumers[a];
    const Quantity stock = all_stock(model_.data().articles[a]);
    on_hand_.push_back(stock);
    Use use = Use::shared;
    // With a little more than a pack, what is needed in truth is likely to be no more than one.
    const Quantity pack = model_.data().articles[a].pack;
    if (stock == 0 && c.total <= pack + pack / 4) use = Use::pack;
    if (c.units.empty() && c.removals == 0) use = Use::none;
    if (c.units.size() == 1 && c.removals == 0) use = Use::once;
    if (c.whole_packs && stock == 0 && use != Use::none) use = Use::multiples;
    use_.push_back(use);
    needed_by_.push_back(c.units);
  }
  for (int u = 0; u < model_.unit_count(); ++u) {
    for (int r : model_.units()[u].removals) {
      for (const Need& n : model_.data().removals[r].one_use) needed_by_[n.article].push_back(u);
    }
  }
  for (std::vector<int>& units : needed_by_) sort_unique(units);
}

std::int64_t RelaxedGoods::least_price(int article, int stage, std::int64_t packs) const {
  std::int64_t least = none;
  for (const Way& way : model_.buyer().article_ways(article, stage))
    least = std::min(least, delivery_.price(way, packs));
  return least;
}

/// Of one pack, at any stage.
std::int64_t RelaxedGoods::pack_price(int article) const {
  std::int64_t least = none;
  for (int t = 0; t < model_.stage_count(); ++t) least = std::min(least, least_price(article, t, 1));
  return least == none ? 0 : least;
}

/// The part of a need that stock on hand cannot meet, at the cheapest price for its share of a pack.
std::int64_t RelaxedGoods::pro_rata(const Need& need) const {
  const Quantity lacking = std::max<Quantity>(0, need.amount - on_hand_[need.article]);
  return scale_down(lacking, pack_price(need.article), model_.data().articles[need.article].pack);
}

/// Of an article whose packs are not shared: so many must be bought for `stage`.
std::int64_t RelaxedGoods::packs_lacking(const Need& need, int stage) const {
  const Article& article = model_.data().articles[need.article];
  Quantity stock = 0;
  for (const Lot& lot : article.on_hand) {
    if (!lot.use_by || model_.data().stages[stage].last_day() <= *lot.use_by) stock += lot.amount;
  }
  return (std::max<Quantity>(0, need.amount - stock) + article.pack - 1) / article.pack;
}

std::int64_t RelaxedGoods::need_cost(const Need& need, int stage) const {
  if (use_[need.article] == Use::pack) return 0;
  if (use_[need.article] == Use::shared) return pro_rata(need);
  const std::int64_t packs = packs_lacking(need, stage);
  const std::int64_t least = packs == 0 ? 0 : least_price(need.article, stage, packs);
  return least == none ? 0 : least;
}

std::int64_t RelaxedGoods::unit_cost(int unit, int stage) const {
  std::int64_t sum = 0;
  for (const Need& need : model_.units()[unit].needs) sum += need_cost(need, stage);
  return sum;
}

std::int64_t RelaxedGoods::removal_cost(int removal) const {
  std::int64_t sum = 0;
  for (const Need& need : model_.data().removals[removal].one_use) {
    std::int64_t least = none;
    for (int t = 0; t < model_.stage_count(); ++t) {
      if (!model_.buyer().article_ways(need.article, t).empty()) least = std::min(least, need_cost(need, t));
    }
    sum += least == none ? 0 : least;
  }
  return sum;
}

/// n stages cost at least min(price, n * hire). That is concave in n, so the line through n = 1 and the most
/// uses there can be lies below it.
RelaxedGoods::ToolCost RelaxedGoods::split_hire(std::int64_t hire, std::int64_t price, int uses) const {
  if (hire >= price || uses <= 1) return {std::min(hire, price), 0, {}};
  const std::int64_t all = price / uses < hire ? price : hire * uses;
  const std::int64_t each = (all - hire) / (uses - 1);
  return {hire - each, each, {}};
}

/// Nothing if it is free at any stage; else the least of buying and hiring it.
void RelaxedGoods::find_tools() {
  const ProblemData& data = model_.data();
  std::vector<std::vector<int>> users(data.tools.size());
  for (int u = 0; u < model_.unit_count(); ++u) {
    for (int k : model_.units()[u].tools) users[k].push_back(u);
    for (int r : model_.units()[u].removals) {
      for (int k : data.removals[r].tools) users[k].push_back(u);
    }
  }
  for (std::size_t k = 0; k < data.tools.size(); ++k) {
    const Tool& tool = data.tools[k];
    sort_unique(users[k]);
    std::int64_t price = none;
    for (int t = 0; t < model_.stage_count(); ++t) {
      for (const Way& way : model_.buyer().tool_ways(static_cast<int>(k), t))
        price = std::min(price, delivery_.price(way, 1));
    }
    const std::int64_t hire = tool.hire ? tool.hire->minor() : none;
    const bool costs = !sometimes_free(tool) && !users[k].empty() && std::min(hire, price) != none;
    const int uses = std::min(model_.stage_count(), static_cast<int>(users[k].size()));
    tools_.push_back(costs ? split_hire(hire, price, uses) : ToolCost{});
    tools_.back().units = users[k];
  }
}

std::vector<RelaxedGoods::Once> RelaxedGoods::onces() const {
  std::vector<Once> found;
  for (const ToolCost& tool : tools_) {
    if (tool.once > 0) found.push_back({tool.once, tool.units});
  }
  for (std::size_t a = 0; a < use_.size(); ++a) {
    const std::int64_t cost = use_[a] == Use::pack ? pack_price(static_cast<int>(a)) : 0;
    if (cost > 0 && !needed_by_[a].empty()) found.push_back({cost, needed_by_[a]});
  }
  return found;
}

/// Whether something has to be bought for this need at every stage.
bool RelaxedGoods::is_bought(const Need& need) const {
  const Use use = use_[need.article];
  return use == Use::multiples || (use == Use::once && need.amount > on_hand_[need.article]);
}

/// What a certain need adds to the relaxed costs at least: the supplier's fee where that is the only way,
/// less where another way is not that much dearer.
std::int64_t RelaxedGoods::trigger(const Need& need, int supplier, int stage) const {
  if (!is_bought(need)) return 0;
  const std::int64_t packs = packs_lacking(need, stage);
  std::int64_t least = none;
  std::int64_t other = none;
  for (const Way& way : model_.buyer().article_ways(need.article, stage)) {
    const std::int64_t price = delivery_.price(way, packs);
    const bool here = way.supplier == supplier && delivery_.fee(supplier) > 0;
    least = std::min(least, price);
    if (!here) other = std::min(other, price);
  }
  if (least == none) return 0;
  return other == none ? delivery_.fee(supplier) : std::min(other - least, delivery_.fee(supplier));
}

/// The same for all that a unit needs, at its best stage.
std::int64_t RelaxedGoods::trigger(int unit, int supplier) const {
  std::int64_t least = none;
  for (int t = 0; t < model_.stage_count(); ++t) {
    if (!model_.allowed(unit, t)) continue;
    std::int64_t most = 0;
    for (const Need& need : model_.units()[unit].needs) most = std::max(most, trigger(need, supplier, t));
    for (int r : model_.units()[unit].removals) {
      for (const Need& need : model_.data().removals[r].one_use)
        most = std::max(most, trigger(need, supplier, t));
    }
    least = std::min(least, most);
  }
  return least == none ? 0 : least;
}

/// A supplier's fee comes in two halves: units that are only sure of the lower one have that.
void RelaxedGoods::find_deliveries() {
  for (int s = 0; s < static_cast<int>(model_.data().suppliers.size()); ++s) {
    const std::int64_t fee = delivery_.fee(s);
    Once lower{fee / 2, {}};
    Once upper{fee - fee / 2, {}};
    for (int u = 0; u < model_.unit_count() && fee > 0; ++u) {
      const std::int64_t sure = trigger(u, s);
      if (sure >= lower.cost) lower.units.push_back(u);
      if (sure >= fee) upper.units.push_back(u);
    }
    delivered_.push_back({std::move(lower), std::move(upper)});
  }
}

std::vector<RelaxedGoods::Fee> RelaxedGoods::fees() const {
  std::vector<Fee> found;
  for (const ToolCost& tool : tools_) {
    if (tool.hire > 0) found.push_back({tool.hire, tool.units});
  }
  for (const auto& halves : delivered_) {
    for (const Once& half : halves) {
      if (model_.stage_count() == 1 && half.cost > 0) found.push_back(half);
    }
  }
  return found;
}

std::vector<RelaxedGoods::Delivery> RelaxedGoods::deliveries() const {
  std::vector<Delivery> found;
  for (std::size_t s = 0; s < delivered_.size() && model_.stage_count() > 1; ++s) {
    for (const Once& half : delivered_[s]) {
      if (half.cost > 0 && !half.units.empty())
        found.push_back({{static_cast<int>(s), half.cost}, half.units});
    }
  }
  return found;
}

std::int64_t RelaxedGoods::saving(const Stores& stores, const std::uint64_t* owned, const std::uint64_t* done,
                                  const std::vector<char>& left, int next) const {
  std::int64_t sum = 0;
  for (const OpenOrder& order : stores.orders) sum += delivery_.refund(order);
  for (const HeldLot& lot : stores.lots) {
    if (use_[lot.article] != Use::shared) continue;
    sum += scale_down(lot.amount, pack_price(lot.article), model_.data().articles[lot.article].pack) + 1;
  }
  for (std::size_t k = 0; k < tools_.size(); ++k) {
    if (!has_bit(owned, static_cast<int>(k))) continue;
    std::int64_t uses = 0;
    bool charged = false;
    for (int u : tools_[k].units) {
      uses += left[u];
      charged |= has_bit(done, u);
    }
    if (!charged && uses > 0) sum += tools_[k].once;  // owned for work that could have used another
    sum += tools_[k].hire * std::min<std::int64_t>(uses, model_.stage_count() - next);
  }
  return sum;
}

bool RelaxedGoods::ways_are_plain(const std::vector<Way>& ways, int stage) const {
  return ways.size() == 1 && ways[0].stage == stage;
}

bool RelaxedGoods::tool_is_exact(int tool) const {
  const Tool& data = model_.data().tools[tool];
  if (data.hire || sometimes_free(data)) return false;
  for (int t = 0; t < model_.stage_count(); ++t) {
    const auto& ways = model_.buyer().tool_ways(tool, t);
    if (!ways_are_plain(ways, t) || ways[0].price != model_.buyer().tool_ways(tool, 0)[0].price) return false;
    const Supplier& supplier = model_.data().suppliers[ways[0].supplier];
    if (supplier.delivery != Money() && !(supplier.free_from && *supplier.free_from <= Money())) return false;
  }
  return true;
}

/// The relaxed costs are the true ones if nothing is shared, chosen, ordered ahead or delivered free.
void RelaxedGoods::note_exactness() {
  exact_ = delivery_.plain();
  for (std::size_t a = 0; a < use_.size(); ++a) {
    if (use_[a] == Use::none) continue;
    exact_ &= use_[a] == Use::multiples || (use_[a] == Use::once && on_hand_[a] == 0);
    const auto& first = model_.buyer().article_ways(static_cast<int>(a), 0);
    for (int t = 0; t < model_.stage_count() && exact_; ++t) {
      const auto& ways = model_.buyer().article_ways(static_cast<int>(a), t);
      exact_ &= ways_are_plain(ways, t) && ways[0].price == first[0].price;
      exact_ &= model_.data().articles[a].offers.size() == 1;
    }
  }
  for (std::size_t k = 0; k < tools_.size(); ++k) {
    if (!tools_[k].units.empty()) exact_ &= tool_is_exact(static_cast<int>(k));
  }
}

}  // namespace fettlefund::budgets::search
