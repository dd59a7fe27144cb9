#include "tests/budgets/support/plain_basket.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <tuple>

namespace fettlefund::testing {
namespace {

using namespace budgets;

struct Thing {
  bool tool = false;
  int index = 0;
  int stage = 0;
  std::int64_t packs = 1;
  const std::vector<Offer>* offers = nullptr;
  std::int64_t least = 0;  ///< for the goods, in whatever way
};

struct Chosen {
  int offer = 0;
  int payday = 0;
  int latest = 0;
};

/// Money in all, before the allowance, by payday, and the choices as they decide among equals.
using Key =
    std::tuple<std::int64_t, std::int64_t, std::vector<std::int64_t>, std::vector<std::pair<int, int>>>;

class Plain {
 public:
  Plain(const Problem& problem, const Schedule& schedule) : data_(problem.data()), problem_(problem) {
    for (const Article& article : data_.articles) stock_.push_back(article.on_hand);
    for (int t = 0; t < problem.stage_count(); ++t) add_stage(schedule, t);
  }

  PlainShopping shop();

 private:
  void add_stage(const Schedule& schedule, int t);
  void add_fees(const Schedule& schedule, int t);
  std::optional<std::int64_t> least_hire(const std::set<int>& there,
                                         const std::vector<std::vector<int>>& any) const;
  std::set<int> opened(const Schedule& schedule, int t) const;
  std::map<int, Quantity> needs(const Schedule& schedule, int t) const;
  Quantity use_stock(int article, Quantity amount, const Stage& stage);
  void add_thing(Thing thing);
  int latest(const Offer& offer, int stage) const;
  bool open(const Offer& offer, int payday) const;
  void choose(std::size_t at, std::int64_t goods);
  void judge();
  std::optional<Key> key() const;
  std::vector<Order> orders() const;
  std::int64_t delivery(int supplier, std::int64_t goods) const {
    const Supplier& s = data_.suppliers[supplier];
    return s.free_from && goods >= s.free_from->minor() ? 0 : s.delivery.minor();
  }

  const ProblemData& data_;
  const Problem& problem_;
  std::vector<std::vector<Lot>> stock_;
  std::vector<Thing> things_;
  std::vector<std::int64_t> fees_;
  std::int64_t all_fees_ = 0;
  std::vector<Chosen> now_, best_;
  std::optional<Key> best_key_;
  PlainShopping result_;
};

std::set<int> Plain::opened(const Schedule& schedule, int t) const {
  std::set<int> opened;
  for (int j = 0; j < problem_.job_count(); ++j) {
    if (schedule.stage_of[j] == t) opened.insert(problem_.opened_by(j).begin(), problem_.opened_by(j).end());
  }
  return opened;
}

std::map<int, Quantity> Plain::needs(const Schedule& schedule, int t) const {
  std::map<int, Quantity> total;
  std::set<int> opened;
  for (int j = 0; j < problem_.job_count(); ++j) {
    if (schedule.stage_of[j] != t) continue;
    for (const Need& need : data_.jobs[j].needs) total[need.article] += need.amount;
    opened.insert(problem_.opened_by(j).begin(), problem_.opened_by(j).end());
  }
  for (int r : opened) {
    for (const Need& need : data_.removals[r].one_use) total[need.article] += need.amount;
  }
  return total;
}

Quantity Plain::use_stock(int article, Quantity amount, const Stage& stage) {
  const Date bench = stage.bench, last = stage.last.value_or(bench);
  std::vector<Lot>& lots = stock_[article];
  const Article& kind = data_.articles[article];
  const auto closed = [&](const Lot& lot) {
    return kind.keeping_days && !lot.use_by && (!lot.from || *lot.from <= bench);
  };
  Lot packs;  // all that are closed and there
  for (const Lot& lot : lots) packs.amount += closed(lot) ? lot.amount : 0;
  std::erase_if(lots, closed);
  std::stable_sort(lots.begin(), lots.end(), [](const Lot& a, const Lot& b) {
    return a.use_by.value_or(Date{INT32_MAX}) < b.use_by.value_or(Date{INT32_MAX});
  });
  for (Lot& lot : lots) {
    if ((lot.use_by && *lot.use_by < last) || (lot.from && *lot.from > bench)) continue;
    const Quantity taken = std::min(lot.amount, amount);
    lot.amount -= taken;
    amount -= taken;
  }
  if (packs.amount == 0) return amount;
  const Quantity taken = std::min(packs.amount, amount);
  packs.amount -= taken;
  if (const Quantity open = packs.amount % kind.pack; taken > 0 && open > 0) {
    packs.amount -= open;
    lots.push_back({open, bench + *kind.keeping_days, {}});
  }
  if (packs.amount > 0) lots.push_back(packs);
  return amount - taken;
}

/// The last payday on which the offer is open and brings its goods in time; -1: none.
int Plain::latest(const Offer& offer, int stage) const {
  for (int p = stage; p >= 0; --p) {
    if (open(offer, p) && data_.stages[p].payday + offer.lead_days <= data_.stages[stage].bench) return p;
  }
  return -1;
}

bool Plain::open(const Offer& offer, int payday) const {
  const Date day = data_.stages[payday].payday;
  return (!offer.from || *offer.from <= day) && (!offer.until || day <= *offer.until);
}

void Plain::add_thing(Thing thing) {
  std::optional<std::int64_t> least;
  for (const Offer& offer : *thing.offers) {
    if (latest(offer, thing.stage) < 0) continue;
    const std::int64_t goods = offer.price.minor() * thing.packs;
    least = std::min(least.value_or(goods), goods);
  }
  if (!least) {
    result_.possible = false;
    return;
  }
  thing.least = *least;
  things_.push_back(thing);
}

void Plain::add_stage(const Schedule& schedule, int t) {
  const Date bench = data_.stages[t].bench;
  for (const auto& [a, amount] : needs(schedule, t)) {
    const Article& article = data_.articles[a];
    const Quantity lacking = use_stock(a, amount, data_.stages[t]);
    if (lacking == 0) continue;
    const std::int64_t packs = (lacking + article.pack - 1) / article.pack;
    const Quantity rest = packs * article.pack - lacking;
    std::optional<Date> use_by;
    if (article.keeping_days) use_by = bench + *article.keeping_days;
    if (rest > 0) stock_[a].push_back({rest, use_by, {}});
    add_thing({false, a, t, packs, &article.offers, 0});
  }
  for (std::size_t k = 0; k < data_.tools.size(); ++k) {
    if (schedule.tool_bought[k] == t) add_thing({true, static_cast<int>(k), t, 1, &data_.tools[k].offers, 0});
  }
  add_fees(schedule, t);
}

/// Jobs, removals and hire.
void Plain::add_fees(const Schedule& schedule, int t) {
  std::int64_t fees = 0;
  std::set<int> tools;
  std::vector<std::vector<int>> any;
  const auto use = [&](const auto& work) {
    fees += work.cost.minor();
    tools.insert(work.tools.begin(), work.tools.end());
    any.insert(any.end(), work.any_tools.begin(), work.any_tools.end());
  };
  for (int j = 0; j < problem_.job_count(); ++j) {
    if (schedule.stage_of[j] == t) use(data_.jobs[j]);
  }
  for (int r : opened(schedule, t)) use(data_.removals[r]);
  std::set<int> there = tools;
  for (int k = 0; k < static_cast<int>(data_.tools.size()); ++k) {
    const Tool& tool = data_.tools[k];
    const bool had = schedule.tool_bought[k] >= 0 && schedule.tool_bought[k] <= t;
    if (had || (!tool.free.empty() && tool.free[t])) {
      there.insert(k);
      tools.erase(k);
    }
  }
  for (int k : tools) {
    if (data_.tools[k].hire) fees += data_.tools[k].hire->minor();
    result_.possible &= data_.tools[k].hire.has_value();
  }
  const std::optional<std::int64_t> more = least_hire(there, any);
  result_.possible &= more.has_value();
  fees += more.value_or(0);
  fees_.push_back(fees);
  all_fees_ += fees;
}

/// What hiring costs at least until one of each set is there.
std::optional<std::int64_t> Plain::least_hire(const std::set<int>& there,
                                              const std::vector<std::vector<int>>& any) const {
  for (const std::vector<int>& set : any) {
    if (std::any_of(set.begin(), set.end(), [&](int k) { return there.count(k) > 0; })) continue;
    std::optional<std::int64_t> least;
    for (int k : set) {
      if (!data_.tools[k].hire) continue;
      std::set<int> more = there;
      more.insert(k);
      const auto rest = least_hire(more, any);
      if (rest) least = std::min(least.value_or(INT64_MAX), *rest + data_.tools[k].hire->minor());
    }
    return least;
  }
  return 0;
}

/// Every offer on every payday from the last possible one backwards; earlier ones only where delivery is
/// charged.
void Plain::choose(std::size_t at, std::int64_t goods) {
  if (best_key_ && goods + all_fees_ > std::get<0>(*best_key_)) return;
  if (at == things_.size()) return judge();
  const Thing& thing = things_[at];
  for (std::size_t o = 0; o < thing.offers->size(); ++o) {
    const Offer& offer = (*thing.offers)[o];
    const int last = latest(offer, thing.stage);
    for (int p = last; p >= 0 && open(offer, p) && result_.ways < PlainShopping::most_ways; --p) {
      if (p < last && delivery(offer.supplier, 0) == 0) break;
      now_.push_back({static_cast<int>(o), p, last});
      choose(at + 1, goods + offer.price.minor() * thing.packs - thing.least);
      now_.pop_back();
    }
  }
}

void Plain::judge() {
  ++result_.ways;
  const auto found = key();
  if (!found || (best_key_ && *best_key_ <= *found)) return;
  best_key_ = found;
  best_ = now_;
}

/// Nothing where an order has nothing that presses, or too little cash is left.
std::optional<Key> Plain::key() const {
  std::map<std::pair<int, int>, std::pair<std::int64_t, bool>> orders;
  std::vector<std::pair<int, int>> choices;
  for (std::size_t i = 0; i < things_.size(); ++i) {
    const Offer& offer = (*things_[i].offers)[now_[i].offer];
    auto& order = orders[{now_[i].payday, offer.supplier}];
    order.first += offer.price.minor() * things_[i].packs;
    order.second |= now_[i].payday == now_[i].latest;
    choices.emplace_back(now_[i].offer, now_[i].latest - now_[i].payday);
  }
  std::vector<std::int64_t> by_payday = fees_;
  for (const auto& [where, order] : orders) {
    if (!order.second) return std::nullopt;
    by_payday[where.first] += order.first + delivery(where.second, order.first);
  }
  std::int64_t spent = 0, bare = 0, cash = data_.opening.minor();
  for (std::size_t t = 0; t < by_payday.size(); ++t) {
    const std::int64_t paid = by_payday[t] + (by_payday[t] * data_.allowance_bp + 9999) / 10000;
    spent += paid;
    bare += by_payday[t];
    cash += data_.stages[t].cash_in.minor() - paid;
    if (cash < data_.stages[t].floor.minor()) return std::nullopt;
  }
  return Key(spent, bare, by_payday, choices);
}

std::vector<Order> Plain::orders() const {
  std::map<std::pair<int, int>, Order> orders;
  for (std::size_t i = 0; i < things_.size(); ++i) {
    const Thing& thing = things_[i];
    const Offer& offer = (*thing.offers)[best_[i].offer];
    Order& order = orders[{best_[i].payday, offer.supplier}];
    order.stage = best_[i].payday;
    order.supplier = offer.supplier;
    const Money amount = offer.price * thing.packs;
    order.lines.push_back({thing.tool ? -1 : thing.index, thing.tool ? thing.index : -1, best_[i].offer,
                           thing.stage, thing.packs, amount});
    order.goods += amount;
  }
  std::vector<Order> result;
  for (auto& [where, order] : orders) {
    order.delivery = Money::of_minor(delivery(order.supplier, order.goods.minor()));
    result.push_back(std::move(order));
  }
  return result;
}

PlainShopping Plain::shop() {
  if (!result_.possible) return result_;
  std::int64_t least = 0;
  for (const Thing& thing : things_) least += thing.least;
  choose(0, least);
  result_.all = result_.ways < PlainShopping::most_ways;
  result_.possible = best_key_.has_value();
  if (!result_.possible) return result_;
  result_.spent = std::get<0>(*best_key_);
  result_.orders = orders();
  return result_;
}

}  // namespace

PlainShopping shop_plainly(const Problem& problem, const Schedule& schedule) {
  return Plain(problem, schedule).shop();
}

}  // namespace fettlefund::testing
