#include "budgets/search/relaxed/delivery.hpp"

#include <algorithm>
#include <map>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {
namespace {

bool always_free(const Supplier& supplier) {
  return supplier.delivery == Money() || (supplier.free_from && *supplier.free_from <= Money());
}

/// The most that equal entries of `values` occur, those below zero apart; at least 1.
int most_equal(const std::vector<int>& values) {
  int most = 1;
  for (int v : values) {
    if (v >= 0) most = std::max(most, static_cast<int>(std::count(values.begin(), values.end(), v)));
  }
  return most;
}

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
  find_paydays();
  find_reach();
  for (std::size_t s = 0; s < suppliers_.size(); ++s) find_terms(static_cast<int>(s));
}

/// For each supplier and stage the payday on which most articles are ordered.
void RelaxedDelivery::find_paydays() {
  const ProblemData& data = model_.data();
  std::vector<std::vector<int>> stages(suppliers_.size() * data.stages.size());  // that order on that payday
  for (Terms& terms : suppliers_) terms.payday.assign(data.stages.size(), -1);
  for (int t = 0; t < model_.stage_count(); ++t) {
    std::vector<std::map<int, int>> counts(suppliers_.size());
    const auto count = [&](const std::vector<Way>& ways) {
      for (const Way& way : ways) {
        ++counts[way.supplier][way.stage];
        auto& ordering = stages[way.supplier * data.stages.size() + way.stage];
        if (ordering.empty() || ordering.back() != t) ordering.push_back(t);
        plain_ &= ordering.size() == 1;
      }
    };
    for (std::size_t a = 0; a < data.articles.size(); ++a)
      count(model_.buyer().article_ways(static_cast<int>(a), t));
    for (std::size_t k = 0; k < data.tools.size(); ++k)
      count(model_.buyer().tool_ways(static_cast<int>(k), t));
    for (std::size_t s = 0; s < suppliers_.size(); ++s) {
      int most = 0;
      for (const auto& [payday, number] : counts[s]) {
        if (number >= most) most = number, suppliers_[s].payday[t] = payday;
      }
    }
  }
  for (const Terms& terms : suppliers_) sharing_.push_back(most_equal(terms.payday));
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
  const std::int64_t full = always_free(supplier) ? 0 : supplier.delivery.minor();
  const bool may_be_free = full > 0 && supplier.free_from && reach_[s] >= supplier.free_from->minor();
  plain_ &= !may_be_free;
  terms.fee = full / sharing_[s];
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

std::int64_t RelaxedDelivery::price(const Way& way, std::int64_t packs) const {
  const std::int64_t full = way.price.minor() * packs;
  if (!suppliers_[way.supplier].discounted) return full;
  const Supplier& supplier = model_.data().suppliers[way.supplier];
  const std::int64_t delivery = supplier.delivery.minor();
  return full - std::min(delivery, scale_up(full, delivery, supplier.free_from->minor()));
}

/// Later stages may bring the order up to its free-from amount: then its own fee comes back. And a stage that
/// would pay the fee need not.
std::int64_t RelaxedDelivery::saving(const OpenOrder& order, int next_stage) const {
  const Terms& terms = suppliers_[order.supplier];
  const Supplier& supplier = model_.data().suppliers[order.supplier];
  std::int64_t sum = 0;
  if (supplier.free_from && order.goods < *supplier.free_from) {
    const std::int64_t fee = supplier.delivery.minor();
    sum += terms.discounted ? scale_up(order.goods.minor(), fee, supplier.free_from->minor()) : fee;
  }
  for (int t = next_stage; t < model_.stage_count(); ++t) {
    if (terms.payday[t] == order.stage) sum += terms.fee;
  }
  return sum;
}

}  // namespace fettlefund::budgets::search
