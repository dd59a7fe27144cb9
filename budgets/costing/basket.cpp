#include "budgets/costing/basket.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "budgets/costing/basket_style.hpp"

namespace fettlefund::budgets {
namespace {

bool alike(const HeldLot& a, const HeldLot& b) {
  return a.article == b.article && a.last_stage == b.last_stage && a.first_stage == b.first_stage;
}

/// Makes one of neighbours that differ in their amounts only.
void join(std::vector<HeldLot>& lots) {
  std::size_t kept = 0;
  for (const HeldLot& lot : lots) {
    if (kept > 0 && alike(lots[kept - 1], lot)) {
      lots[kept - 1].amount += lot.amount;
    } else {
      lots[kept++] = lot;
    }
  }
  lots.resize(kept);
}

Money delivery_for(const Supplier& supplier, Money goods) {
  return supplier.free_from && goods >= *supplier.free_from ? Money() : supplier.delivery;
}

/// Of two offers that go to one order the dearer can only pay if it helps to reach free delivery, or can join
/// an order too early for the other.
bool never_pays(const Supplier& supplier, const Way& way, const std::vector<Way>& ways) {
  const bool charged = charges_delivery(supplier);
  if (supplier.free_from && charged) return false;
  return std::any_of(ways.begin(), ways.end(), [&](const Way& other) {
    if (other.stage != way.stage || other.supplier != way.supplier) return false;
    if (charged && other.first > way.first) return false;
    return other.price != way.price ? other.price < way.price : other.offer < way.offer;
  });
}

PaydayCharge& charge_of(Receipt& receipt, int stage) {
  const auto place = std::lower_bound(receipt.charges.begin(), receipt.charges.end(), stage,
                                      [](const PaydayCharge& c, int s) { return c.stage < s; });
  if (place != receipt.charges.end() && place->stage == stage) return *place;
  return *receipt.charges.insert(place, PaydayCharge{stage, {}, {}});
}

void add_needs(std::vector<Need>& sum, const std::vector<Need>& needs) {
  sum.insert(sum.end(), needs.begin(), needs.end());
}

void add_up(std::vector<Need>& needs) {
  std::sort(needs.begin(), needs.end(), [](const Need& a, const Need& b) { return a.article < b.article; });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < needs.size(); ++i) {
    if (kept > 0 && needs[kept - 1].article == needs[i].article) {
      needs[kept - 1].amount += needs[i].amount;
    } else {
      needs[kept++] = needs[i];
    }
  }
  needs.resize(kept);
}

}  // namespace

std::optional<Money> least_price(const std::vector<Way>& ways) {
  std::optional<Money> least;
  for (const Way& way : ways) least = least ? std::min(*least, way.price) : way.price;
  return least;
}

Demand demand_of(const Problem& problem, const std::vector<int>& jobs, const std::vector<int>& opened,
                 const std::vector<int>& tools_bought) {
  Demand demand;
  for (int j : jobs) add_needs(demand.needs, problem.data().jobs[j].needs);
  for (int r : opened) add_needs(demand.needs, problem.data().removals[r].one_use);
  add_up(demand.needs);
  demand.tools = tools_bought;
  return demand;
}

Buyer::Buyer(const Problem& problem) : problem_(problem) {
  const ProblemData& data = problem.data();
  last_join_.assign(data.stages.size(), std::vector<int>(data.suppliers.size(), -1));
  last_call_ = last_join_;
  for (int t = 0; t < problem.stage_count(); ++t) first_payday_.push_back(t);
  for (const Article& article : data.articles) article_ways_.push_back(find_ways(article.offers));
  for (const Tool& tool : data.tools) tool_ways_.push_back(find_ways(tool.offers));
  for (const WaysByStage& ways : article_ways_) note_joins(ways);
  for (const WaysByStage& ways : tool_ways_) note_joins(ways);
  for (int t = problem.stage_count() - 2; t >= 0; --t) {
    first_payday_[t] = std::min(first_payday_[t], first_payday_[t + 1]);
  }
}

Buyer::WaysByStage Buyer::find_ways(const std::vector<Offer>& offers) const {
  const ProblemData& data = problem_.data();
  WaysByStage result(data.stages.size());
  for (int t = 0; t < problem_.stage_count(); ++t) {
    std::vector<Way> ways;
    for (std::size_t o = 0; o < offers.size(); ++o) {
      const int payday = order_stage(data, offers[o], t);
      if (payday < 0) continue;
      ways.push_back({static_cast<int>(o), payday, offers[o].supplier, offers[o].price,
                      first_order_stage(data, offers[o], t)});
    }
    std::copy_if(ways.begin(), ways.end(), std::back_inserter(result[t]),
                 [&](const Way& w) { return !never_pays(data.suppliers[w.supplier], w, ways); });
  }
  return result;
}

void Buyer::note_joins(const WaysByStage& ways) {
  const auto raise = [](int& last, int t) { last = std::max(last, t); };
  for (int t = 0; t < problem_.stage_count(); ++t) {
    for (const Way& way : ways[t]) {
      const bool charged = charges_delivery(problem_.data().suppliers[way.supplier]);
      const int first = charged ? way.first : way.stage;
      for (int p = first; p <= way.stage; ++p) raise(last_join_[p][way.supplier], t);
      raise(last_call_[way.stage][way.supplier], t);
      first_payday_[t] = std::min(first_payday_[t], first);
    }
  }
}

/// The last stage whose last day is not after `use_by`; -1 if there is none.
int Buyer::last_usable(std::optional<Date> use_by) const {
  int last = problem_.stage_count() - 1;
  while (use_by && last >= 0 && problem_.data().stages[last].last_day() > *use_by) --last;
  return last;
}

/// The first stage whose bench date is not before `from`; the number of stages if there is none.
int Buyer::first_usable(std::optional<Date> from) const {
  int first = 0;
  while (from && first < problem_.stage_count() && problem_.data().stages[first].bench < *from) ++first;
  return first;
}

Stores Buyer::opening_stores() const {
  Stores stores;
  for (std::size_t a = 0; a < problem_.data().articles.size(); ++a) {
    for (const Lot& lot : problem_.data().articles[a].on_hand) {
      const bool closed = !lot.use_by && problem_.data().articles[a].keeping_days;
      const int first = first_usable(lot.from);
      const int last = closed ? problem_.stage_count() : last_usable(lot.use_by);
      if (first <= last) stores.lots.push_back({static_cast<int>(a), last, first, lot.amount});
    }
  }
  std::sort(stores.lots.begin(), stores.lots.end());
  join(stores.lots);
  return stores;
}

/// Takes from stock, the lot that ends first foremost; returns what is still needed. Leaves empty lots.
Quantity Buyer::take(int article, Quantity amount, int stage, Stores& stores) const {
  HeldLot* closed = nullptr;
  for (HeldLot& lot : stores.lots) {
    if (lot.article != article || lot.last_stage < stage || lot.first_stage > stage) continue;
    if (lot.last_stage == problem_.stage_count()) {
      if (closed != nullptr) lot.amount += std::exchange(closed->amount, 0);
      closed = &lot;
      continue;
    }
    const Quantity taken = std::min(lot.amount, amount);
    lot.amount -= taken;
    amount -= taken;
  }
  return closed == nullptr || amount == 0 ? amount : take_closed(*closed, amount, stage, stores);
}

/// The same from closed packs: the rest of the one that is opened goes off from then on.
Quantity Buyer::take_closed(HeldLot& closed, Quantity amount, int stage, Stores& stores) const {
  const Quantity taken = std::min(closed.amount, amount);
  closed.amount -= taken;
  const Quantity opened = closed.amount % problem_.data().articles[closed.article].pack;
  closed.amount -= opened;
  keep_rest(closed.article, opened, stage, stores);  // `closed` may be elsewhere from here on
  return amount - taken;
}

/// Puts the rest of a pack opened at `stage` into store.
void Buyer::keep_rest(int article, Quantity amount, int stage, Stores& stores) const {
  if (amount == 0) return;
  const std::optional<int> keeping = problem_.data().articles[article].keeping_days;
  std::optional<Date> use_by;
  if (keeping) use_by = problem_.data().stages[stage].bench + *keeping;
  const HeldLot lot{article, last_usable(use_by), 0, amount};
  const auto place =
      std::lower_bound(stores.lots.begin(), stores.lots.end(), lot, [](const HeldLot& a, const HeldLot& b) {
        return std::tie(a.article, a.last_stage, a.first_stage) <
               std::tie(b.article, b.last_stage, b.first_stage);
      });
  if (place != stores.lots.end() && alike(*place, lot)) {
    place->amount += amount;
  } else {
    stores.lots.insert(place, lot);
  }
}

void Buyer::place(const Purchase& purchase, Stores& stores, Receipt& receipt) const {
  const Supplier& supplier = problem_.data().suppliers[purchase.supplier];
  const OpenOrder fresh{purchase.stage, purchase.supplier, purchase.line.amount, false};
  const auto order = std::lower_bound(stores.orders.begin(), stores.orders.end(), fresh, earlier);
  PaydayCharge& charge = charge_of(receipt, purchase.stage);
  charge.goods += fresh.goods;
  if (order != stores.orders.end() && !earlier(fresh, *order)) {
    charge.delivery += delivery_for(supplier, order->goods + fresh.goods);
    charge.delivery -= delivery_for(supplier, order->goods);
    order->goods += fresh.goods;
  } else {
    charge.delivery += delivery_for(supplier, fresh.goods);
    stores.orders.insert(order, fresh);
  }
  receipt.lines.push_back(purchase);
}

void Buyer::list(int stage, const Demand& demand, Stores& stores, std::vector<Line>& lines,
                 std::vector<OrderLine>& missing) const {
  const auto want = [&](const OrderLine& line, const std::vector<Way>& ways) {
    if (ways.empty()) {
      missing.push_back(line);
    } else {
      lines.push_back({line, &ways});
    }
  };
  for (const Need& need : demand.needs) {
    const Quantity lacking = take(need.article, need.amount, stage, stores);
    if (lacking == 0) continue;
    const Quantity pack = problem_.data().articles[need.article].pack;
    const std::int64_t packs = (lacking + pack - 1) / pack;
    const auto& ways = article_ways_[need.article][stage];
    want({need.article, -1, 0, stage, packs, {}}, ways);
    if (!ways.empty()) keep_rest(need.article, packs * pack - lacking, stage, stores);
  }
  for (int tool : demand.tools) want({-1, tool, 0, stage, 1, {}}, tool_ways_[tool][stage]);
  drop_lots(stage + 1, stores);
}

void Buyer::buy(int stage, const Demand& demand, Stores& stores, Receipt& receipt, Style style) const {
  receipt.lines.clear();
  receipt.charges.clear();
  receipt.missing.clear();
  lines_.clear();
  wanted_.clear();
  list(stage, demand, stores, lines_, receipt.missing);
  for (const Line& line : lines_) wanted_.push_back({line.ways, line.what.packs});
  const std::vector<Way> chosen = choose_in_style(problem_.data(), stores.orders, wanted_, style);
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    const Way& way = chosen[i];
    OrderLine& line = lines_[i].what;
    line.offer = way.offer;
    line.amount = way.price * line.packs;
    place({line, way.stage, way.supplier}, stores, receipt);
  }
}

/// Drops lots that are empty or not usable at `stage` and later; what has arrived by then is as any other.
void Buyer::drop_lots(int stage, Stores& stores) const {
  std::erase_if(stores.lots, [&](const HeldLot& l) { return l.amount == 0 || l.last_stage < stage; });
  bool arrived = false;
  for (HeldLot& lot : stores.lots) {
    if (lot.first_stage == 0 || lot.first_stage > stage) continue;
    lot.first_stage = 0;
    arrived = true;
  }
  if (!arrived) return;
  std::sort(stores.lots.begin(), stores.lots.end());
  join(stores.lots);
}

void Buyer::forget(int stage, Stores& stores) const {
  drop_lots(stage, stores);
  std::erase_if(stores.orders, [&](const OpenOrder& order) {
    return last_join_[order.stage][order.supplier] < stage ||
           !charges_delivery(problem_.data().suppliers[order.supplier]);
  });
  for (OpenOrder& order : stores.orders) {
    const auto free_from = problem_.data().suppliers[order.supplier].free_from;
    order.goods = free_from ? std::min(order.goods, *free_from) : Money();
  }
}

}  // namespace fettlefund::budgets
