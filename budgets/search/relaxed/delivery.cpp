#include "budgets/search/relaxed/delivery.hpp"

#include <algorithm>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {
namespace {

std::int64_t packs_for(const Need& need, const ProblemData& data) {
  const Quantity pack = data.articles[need.article].pack;
  return (need.amount + pack - 1) / pack;
}

/// a * b / c rounded up, for 0 <= a, b and 0 < c.
std::int64_t scale_up(std::int64_t a, std::int64_t b, std::int64_t c) {
  const std::int64_t down = scale_down(a, b, c);
  __extension__ using Wide = __int128;
  return down + (static_cast<Wide>(down) * c < static_cast<Wide>(a) * b ? 1 : 0);
}

}  // namespace

RelaxedDelivery::RelaxedDelivery(const Model& model) : model_(model) {
  suppliers_.resize(model.data().suppliers.size());
  find_plainness();
  find_reach();
  for (std::size_t s = 0; s < suppliers_.size(); ++s) find_terms(static_cast<int>(s));
}

/// With several stages an order that charges delivery may be shared.
void RelaxedDelivery::find_plainness() {
  const ProblemData& data = model_.data();
  if (model_.stage_count() < 2) return;
  const auto look = [&](const std::vector<Offer>& offers) {
    for (const Offer& offer : offers) plain_ &= !charges_delivery(data.suppliers[offer.supplier]);
  };
  for (const Article& article : data.articles) look(article.offers);
  for (const Tool& tool : data.tools) look(tool.offers);
}

/// More than any order can hold: every unit and, at every stage, every removal buys there.
void RelaxedDelivery::find_reach() {
  const ProblemData& data = model_.data();
  reach_.assign(suppliers_.size(), 0);
  const auto add = [&](const std::vector<Offer>& offers, std::int64_t packs) {
    for (const Offer& offer : offers) reach_[offer.supplier] += offer.price.minor() * packs;
  };
  for (const Unit& unit : model_.units()) {
    for (const Need& n : unit.needs) add(data.articles[n.article].offers, packs_for(n, data));
  }
  for (const Removal& removal : data.removals) {
    for (const Need& n : removal.one_use)
      add(data.articles[n.article].offers, packs_for(n, data) * model_.stage_count());
  }
  for (const Tool& tool : data.tools) add(tool.offers, 1);
}

void RelaxedDelivery::find_terms(int s) {
  const Supplier& supplier = model_.data().suppliers[s];
  Terms& terms = suppliers_[s];
  const std::int64_t full = charges_delivery(supplier) ? supplier.delivery.minor() : 0;
  const bool may_be_free = full > 0 && supplier.free_from && reach_[s] >= supplier.free_from->minor();
  plain_ &= !may_be_free;
  terms.fee = full;
  if (!may_be_free) return;
  terms.discounted = full < supplier.free_from->minor() && small_orders(s);
  if (!terms.discounted) terms.fee = 0;
}

/// Whether the orders of all units, spread at random over the stages, would be below the free-from amount on
/// the average. Only a guess at which of two limits is the better.
bool RelaxedDelivery::small_orders(int supplier) const {
  const ProblemData& data = model_.data();
  const std::int64_t from = data.suppliers[supplier].free_from->minor();
  std::int64_t goods = 0;
  constexpr std::int64_t all = std::int64_t{1} << 30;
  std::int64_t empty = all;  // share of stages without an order, of `all`
  for (const Unit& unit : model_.units()) {
    std::int64_t here = 0;
    for (const Need& need : unit.needs) {
      const auto& offers = data.articles[need.article].offers;
      const auto cheapest = std::min_element(
          offers.begin(), offers.end(), [](const Offer& a, const Offer& b) { return a.price < b.price; });
      if (cheapest == offers.end() || cheapest->supplier != supplier) continue;
      here +=
          std::min(from, scale_down(cheapest->price.minor(), need.amount, data.articles[need.article].pack));
    }
    goods += std::min(here, from);
    if (here > 0) empty -= empty / model_.stage_count();
  }
  return goods / model_.stage_count() < scale_down(from, all - empty, all);
}

bool RelaxedDelivery::may_come_free(int s, std::int64_t money) const {
  const auto& from = model_.data().suppliers[s].free_from;
  return from && reach_[s] >= from->minor() && money >= from->minor();
}

std::int64_t RelaxedDelivery::full_fee(int s) const {
  const Supplier& supplier = model_.data().suppliers[s];
  return charges_delivery(supplier) ? supplier.delivery.minor() : 0;
}

std::int64_t RelaxedDelivery::price(const Way& way, std::int64_t packs) const {
  const std::int64_t full = way.price.minor() * packs;
  if (!suppliers_[way.supplier].discounted) return full;
  const Supplier& supplier = model_.data().suppliers[way.supplier];
  const std::int64_t delivery = supplier.delivery.minor();
  return full - std::min(delivery, scale_up(full, delivery, supplier.free_from->minor()));
}

/// Later stages may bring the order up to its free-from amount: then its own fee comes back.
std::int64_t RelaxedDelivery::refund(const OpenOrder& order) const {
  const Supplier& supplier = model_.data().suppliers[order.supplier];
  if (!supplier.free_from || order.goods >= *supplier.free_from) return 0;
  const std::int64_t fee = supplier.delivery.minor();
  if (!suppliers_[order.supplier].discounted) return fee;
  return scale_up(order.goods.minor(), fee, supplier.free_from->minor());
}

}  // namespace fettlefund::budgets::search
