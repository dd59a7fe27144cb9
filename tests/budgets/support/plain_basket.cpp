#include "tests/budgets/support/plain_basket.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace fettlefund::testing {
namespace {

using namespace budgets;

struct Thing {
  bool tool = false;
  int index = 0;
  std::int64_t packs = 1;
  const std::vector<Offer>* offers = nullptr;
  std::vector<int> possible;  ///< offers that can arrive in time
};

using Goods = std::map<std::pair<int, int>, std::int64_t>;  ///< (stage, supplier) -> goods ordered

class Plain {
 public:
  explicit Plain(const Problem& problem) : data_(problem.data()), problem_(problem) {
    for (const Article& article : data_.articles) stock_.push_back(article.on_hand);
  }

  void shop(const Schedule& schedule, int t, long long& ways);
  std::vector<Order> orders() const;

 private:
  std::vector<Thing> things(const Schedule& schedule, int t);
  std::map<int, Quantity> needs(const Schedule& schedule, int t) const;
  Quantity use_stock(int article, Quantity amount, Date bench);
  std::tuple<std::int64_t, std::vector<std::int64_t>, std::vector<int>> key(const std::vector<Thing>& things,
                                                                            const std::vector<int>& choice,
                                                                            int t) const;
  std::int64_t delivery(int supplier, std::int64_t goods) const {
    const Supplier& s = data_.suppliers[supplier];
    return s.free_from && goods >= s.free_from->minor() ? 0 : s.delivery.minor();
  }

  const ProblemData& data_;
  const Problem& problem_;
  std::vector<std::vector<Lot>> stock_;
  Goods goods_;
  std::map<std::pair<int, int>, std::vector<OrderLine>> lines_;
};

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

Quantity Plain::use_stock(int article, Quantity amount, Date bench) {
  std::vector<Lot>& lots = stock_[article];
  std::stable_sort(lots.begin(), lots.end(), [](const Lot& a, const Lot& b) {
    return a.use_by.value_or(Date{INT32_MAX}) < b.use_by.value_or(Date{INT32_MAX});
  });
  for (Lot& lot : lots) {
    if ((lot.use_by && *lot.use_by < bench) || (lot.from && *lot.from > bench)) continue;
    const Quantity taken = std::min(lot.amount, amount);
    lot.amount -= taken;
    amount -= taken;
  }
  return amount;
}

std::vector<Thing> Plain::things(const Schedule& schedule, int t) {
  std::vector<Thing> result;
  const Date bench = data_.stages[t].bench;
  for (const auto& [a, amount] : needs(schedule, t)) {
    const Article& article = data_.articles[a];
    const Quantity lacking = use_stock(a, amount, bench);
    if (lacking == 0) continue;
    Thing thing{false, a, (lacking + article.pack - 1) / article.pack, &article.offers, {}};
    const bool can = std::any_of(article.offers.begin(), article.offers.end(),
                                 [&](const Offer& o) { return order_stage(data_, o, t) >= 0; });
    const Quantity rest = thing.packs * article.pack - lacking;
    std::optional<Date> use_by;
    if (article.keeping_days) use_by = bench + *article.keeping_days;
    if (can && rest > 0) stock_[a].push_back({rest, use_by, {}});
    result.push_back(thing);
  }
  for (std::size_t k = 0; k < data_.tools.size(); ++k) {
    if (schedule.tool_bought[k] == t)
      result.push_back({true, static_cast<int>(k), 1, &data_.tools[k].offers, {}});
  }
  for (Thing& thing : result) {
    for (std::size_t o = 0; o < thing.offers->size(); ++o) {
      if (order_stage(data_, (*thing.offers)[o], t) >= 0) thing.possible.push_back(static_cast<int>(o));
    }
  }
  std::erase_if(result, [](const Thing& thing) { return thing.possible.empty(); });
  return result;
}

std::tuple<std::int64_t, std::vector<std::int64_t>, std::vector<int>> Plain::key(
    const std::vector<Thing>& things, const std::vector<int>& choice, int t) const {
  Goods goods = goods_;
  for (std::size_t i = 0; i < things.size(); ++i) {
    const Offer& offer = (*things[i].offers)[choice[i]];
    goods[{order_stage(data_, offer, t), offer.supplier}] += offer.price.minor() * things[i].packs;
  }
  std::vector<std::int64_t> by_payday(data_.stages.size(), 0);
  std::int64_t total = 0;
  for (const auto& [where, amount] : goods) {
    const std::int64_t money = amount + delivery(where.second, amount);
    by_payday[where.first] += money;
    total += money;
  }
  return {total, by_payday, choice};
}

void Plain::shop(const Schedule& schedule, int t, long long& ways) {
  const std::vector<Thing> wanted = things(schedule, t);
  std::vector<std::size_t> at(wanted.size(), 0);
  std::vector<int> best;
  long long tried = 0;
  for (bool more = true; more; ++tried) {
    std::vector<int> choice;
    for (std::size_t i = 0; i < wanted.size(); ++i) choice.push_back(wanted[i].possible[at[i]]);
    if (tried == 0 || key(wanted, choice, t) < key(wanted, best, t)) best = choice;
    std::size_t i = 0;
    while (i < at.size() && ++at[i] == wanted[i].possible.size()) at[i++] = 0;
    more = i < at.size();
  }
  ways = std::max(ways, tried);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const Offer& offer = (*wanted[i].offers)[best[i]];
    const std::pair where(order_stage(data_, offer, t), offer.supplier);
    const Money amount = offer.price * wanted[i].packs;
    goods_[where] += amount.minor();
    lines_[where].push_back({wanted[i].tool ? -1 : wanted[i].index, wanted[i].tool ? wanted[i].index : -1,
                             best[i], t, wanted[i].packs, amount});
  }
}

std::vector<Order> Plain::orders() const {
  std::vector<Order> result;
  for (const auto& [where, lines] : lines_) {
    const std::int64_t goods = goods_.at(where);
    result.push_back({where.first, where.second, lines, Money::of_minor(goods),
                      Money::of_minor(delivery(where.second, goods))});
  }
  return result;
}

}  // namespace

std::vector<Order> plain_orders(const Problem& problem, const Schedule& schedule, long long& ways) {
  Plain plain(problem);
  for (int t = 0; t < problem.stage_count(); ++t) plain.shop(schedule, t, ways);
  return plain.orders();
}

}  // namespace fettlefund::testing
