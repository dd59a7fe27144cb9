#include <algorithm>
#include <limits>

#include "budgets/search/relaxed.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max();

/// Consumers of each article: how many units and removals need it, and whether always in whole packs.
struct Consumers {
  int units = 0;
  int removals = 0;
  bool whole_packs = true;
  void add(const Need& need, Quantity pack, int& count) {
    ++count;
    whole_packs &= need.amount % pack == 0;
  }
};

std::vector<Consumers> find_consumers(const Model& model) {
  const ProblemData& data = model.data();
  std::vector<Consumers> found(data.articles.size());
  const auto pack = [&](const Need& need) { return data.articles[need.article].pack; };
  for (const Unit& unit : model.units()) {
    for (const Need& n : unit.needs) found[n.article].add(n, pack(n), found[n.article].units);
  }
  for (const Removal& removal : data.removals) {
    for (const Need& n : removal.one_use) found[n.article].add(n, pack(n), found[n.article].removals);
  }
  return found;
}

bool free_from_zero(const Supplier& supplier) {
  return supplier.delivery == Money() || (supplier.free_from && *supplier.free_from <= Money());
}

}  // namespace

RelaxedGoods::RelaxedGoods(const Model& model) : model_(model) {
  find_uses();
  find_reach();
  find_fees();
  note_exactness();
}

void RelaxedGoods::find_uses() {
  const auto consumers = find_consumers(model_);
  for (std::size_t a = 0; a < consumers.size(); ++a) {
    const Consumers& c = consumers[a];
    Quantity stock = 0;
    for (const Lot& lot : model_.data().articles[a].on_hand) stock += lot.amount;
    on_hand_.push_back(stock);
    Use use = Use::shared;
    if (c.units + c.removals == 0) use = Use::none;
    if (c.units == 1 && c.removals == 0) use = Use::once;
    if (c.whole_packs && stock == 0 && use != Use::none) use = Use::multiples;
    use_.push_back(use);
  }
}

/// More than any order can hold: every unit and, at every stage, every removal buys there.
void RelaxedGoods::find_reach() {
  const ProblemData& data = model_.data();
  reach_.assign(data.suppliers.size(), 0);
  const auto add = [&](const std::vector<Offer>& offers, std::int64_t packs) {
    for (const Offer& offer : offers) reach_[offer.supplier] += offer.price.minor() * packs;
  };
  const auto add_need = [&](const Need& need, std::int64_t times) {
    const Article& article = data.articles[need.article];
    add(article.offers, ((need.amount + article.pack - 1) / article.pack) * times);
  };
  for (const Unit& unit : model_.units()) {
    for (const Need& need : unit.needs) add_need(need, 1);
  }
  for (const Removal& removal : data.removals) {
    for (const Need& need : removal.one_use) add_need(need, model_.stage_count());
  }
  for (const Tool& tool : data.tools) add(tool.offers, 1);
}

/// A fee D that falls away from goods F on is at least D less D/F of the goods, for every amount of goods.
/// That limit is used where orders hardly exceed F by far; otherwise the delivery is left out.
void RelaxedGoods::find_fees() {
  const ProblemData& data = model_.data();
  std::vector<int> sharing(data.suppliers.size(), 1);
  std::vector<std::vector<int>> stages_of(data.suppliers.size() * data.stages.size());
  const auto note = [&](const std::vector<Way>& ways, int stage) {
    for (const Way& way : ways) {
      auto& stages = stages_of[way.supplier * data.stages.size() + way.stage];
      if (std::find(stages.begin(), stages.end(), stage) == stages.end()) stages.push_back(stage);
      sharing[way.supplier] = std::max(sharing[way.supplier], static_cast<int>(stages.size()));
    }
  };
  for (int t = 0; t < model_.stage_count(); ++t) {
    for (std::size_t a = 0; a < use_.size(); ++a)
      note(model_.buyer().article_ways(static_cast<int>(a), t), t);
    for (std::size_t k = 0; k < data.tools.size(); ++k)
      note(model_.buyer().tool_ways(static_cast<int>(k), t), t);
  }
  for (std::size_t s = 0; s < data.suppliers.size(); ++s) {
    const Supplier& supplier = data.suppliers[s];
    std::int64_t fee = free_from_zero(supplier) ? 0 : supplier.delivery.minor();
    const bool may_be_free = fee > 0 && supplier.free_from && reach_[s] >= supplier.free_from->minor();
    discounted_.push_back(may_be_free && reach_[s] < 4 * supplier.free_from->minor() &&
                          fee < supplier.free_from->minor());
    if (may_be_free && !discounted_.back()) fee = 0;
    fee_.push_back(fee / sharing[s]);
    exact_ &= !may_be_free && sharing[s] == 1;
  }
}

std::int64_t RelaxedGoods::price(const Way& way) const {
  const std::int64_t full = way.price.minor();
  if (!discounted_[way.supplier]) return full;
  const Supplier& supplier = model_.data().suppliers[way.supplier];
  const std::int64_t from = supplier.free_from->minor();
  return scale_down(full, from - supplier.delivery.minor(), from);
}

std::int64_t RelaxedGoods::least_price(int article, int stage) const {
  std::int64_t least = none;
  for (const Way& way : model_.buyer().article_ways(article, stage)) least = std::min(least, price(way));
  return least;
}

std::int64_t RelaxedGoods::least_price(int article) const {
  std::int64_t least = none;
  for (int t = 0; t < model_.stage_count(); ++t) least = std::min(least, least_price(article, t));
  return least == none ? 0 : least;
}

/// The part of a need that stock on hand cannot meet, at the cheapest price for its share of a pack.
std::int64_t RelaxedGoods::pro_rata(const Need& need) const {
  const Quantity lacking = std::max<Quantity>(0, need.amount - on_hand_[need.article]);
  return scale_down(lacking, least_price(need.article), model_.data().articles[need.article].pack);
}

std::int64_t RelaxedGoods::need_cost(const Need& need, int stage) const {
  if (use_[need.article] == Use::shared) return pro_rata(need);
  Quantity stock = 0;
  for (const Lot& lot : model_.data().articles[need.article].on_hand) {
    const bool good = !lot.use_by || model_.data().stages[stage].bench <= *lot.use_by;
    if (good) stock += lot.amount;
  }
  const Quantity lacking = std::max<Quantity>(0, need.amount - stock);
  const Quantity pack = model_.data().articles[need.article].pack;
  const std::int64_t least = least_price(need.article, stage);
  if (lacking == 0 || least == none) return 0;
  return (lacking + pack - 1) / pack * least;
}

std::int64_t RelaxedGoods::unit_cost(int unit, int stage) const {
  std::int64_t sum = 0;
  for (const Need& need : model_.units()[unit].needs) sum += need_cost(need, stage);
  return sum;
}

std::int64_t RelaxedGoods::removal_cost(int removal) const {
  std::int64_t sum = 0;
  for (const Need& need : model_.data().removals[removal].one_use) {
    const Article& article = model_.data().articles[need.article];
    sum += use_[need.article] == Use::multiples ? need.amount / article.pack * least_price(need.article)
                                                : pro_rata(need);
  }
  return sum;
}

/// Nothing if it is free at any stage; else the least of buying it and hiring it once.
std::int64_t RelaxedGoods::tool_cost(int tool) const {
  const Tool& data = model_.data().tools[tool];
  if (std::find(data.free.begin(), data.free.end(), 1) != data.free.end()) return 0;
  std::int64_t least = data.hire ? data.hire->minor() : none;
  for (int t = 0; t < model_.stage_count(); ++t) {
    for (const Way& way : model_.buyer().tool_ways(tool, t)) least = std::min(least, price(way));
  }
  return least == none ? 0 : least;
}

/// The one supplier from whom a new order for this need is certain at every stage; -1 if there is none.
int RelaxedGoods::only_supplier(const Need& need) const {
  const Use use = use_[need.article];
  const bool certain = use == Use::multiples || (use == Use::once && need.amount > on_hand_[need.article]);
  if (!certain) return -1;
  int supplier = -1;
  for (const Offer& offer : model_.data().articles[need.article].offers) {
    if (supplier >= 0 && offer.supplier != supplier) return -1;
    supplier = offer.supplier;
  }
  return supplier;
}

std::vector<int> RelaxedGoods::suppliers_of(const Unit& unit) const {
  std::vector<int> found;
  const auto add = [&](const std::vector<Need>& needs) {
    for (const Need& need : needs) {
      const int supplier = only_supplier(need);
      if (supplier >= 0 && fee_[supplier] > 0) found.push_back(supplier);
    }
  };
  add(unit.needs);
  for (int r : unit.removals) add(model_.data().removals[r].one_use);
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

bool RelaxedGoods::ways_are_plain(const std::vector<Way>& ways, int stage) const {
  return ways.size() == 1 && ways[0].stage == stage;
}

bool RelaxedGoods::tool_is_exact(int tool) const {
  const Tool& data = model_.data().tools[tool];
  if (data.hire || std::find(data.free.begin(), data.free.end(), 1) != data.free.end()) return false;
  for (int t = 0; t < model_.stage_count(); ++t) {
    const auto& ways = model_.buyer().tool_ways(tool, t);
    if (!ways_are_plain(ways, t) || ways[0].price != model_.buyer().tool_ways(tool, 0)[0].price) return false;
    if (!free_from_zero(model_.data().suppliers[ways[0].supplier])) return false;
  }
  return true;
}

/// The relaxed costs are the true ones if nothing is shared, chosen, ordered ahead or delivered free.
void RelaxedGoods::note_exactness() {
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
  for (std::size_t k = 0; k < model_.data().tools.size(); ++k) {
    bool used = false;
    for (const Unit& unit : model_.units()) {
      used |= std::binary_search(unit.tools.begin(), unit.tools.end(), static_cast<int>(k));
    }
    for (const Removal& r : model_.data().removals) {
      used |= std::find(r.tools.begin(), r.tools.end(), static_cast<int>(k)) != r.tools.end();
    }
    if (used) exact_ &= tool_is_exact(static_cast<int>(k));
  }
}

}  // namespace fettlefund::budgets::search
