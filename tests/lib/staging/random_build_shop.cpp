#include "tests/lib/staging/random_build_shop.hpp"

#include <algorithm>

namespace fettlefund::test {

using budgets::Date;

PlainShop::PlainShop(const Rulebook& rules)
    : rules_(rules), build_(rules.build_), lots_(build_.articles.size()), other_(rules.days_.size(), 0) {
  for (std::size_t a = 0; a < build_.articles.size(); ++a) {
    const build::Article& article = build_.articles[a];
    for (const build::OnHand& own : build_.on_hand) {
      if (own.article != article.id) continue;
      Lot lot{own.amount, {}};
      if (own.opened && article.keeps_days) lot.use_by = *own.opened + *article.keeps_days;
      lots_[a].push_back(lot);
    }
  }
}

/// The latest payday up to the stage on which the offer is open and brings its goods by the bench date.
int PlainShop::order_stage(const build::Offer& offer, int stage) const {
  const Date bench = rules_.days_[static_cast<std::size_t>(stage)].bench;
  for (int p = stage; p >= 0; --p) {
    const Date payday = rules_.days_[static_cast<std::size_t>(p)].payday;
    const bool open = (!offer.from || payday >= *offer.from) && (!offer.until || payday <= *offer.until);
    if (open && payday + offer.lead_days <= bench) return p;
  }
  return -1;
}

PlainShop::Thing PlainShop::thing(int article, std::int64_t packs, int stage) const {
  Thing wanted{article, packs, {}, stage, 0};
  const auto& offers = build_.articles[static_cast<std::size_t>(article)].offers;
  for (std::size_t o = 0; o < offers.size(); ++o) {
    if (order_stage(offers[o], stage) < 0) continue;
    const std::int64_t price = offers[o].price.likely.minor() * packs;
    wanted.least = wanted.offers.empty() ? price : std::min(wanted.least, price);
    wanted.offers.push_back(static_cast<int>(o));
  }
  return wanted;
}

std::int64_t PlainShop::delivery(const build::Id& supplier, std::int64_t goods) const {
  for (const build::Supplier& one : build_.suppliers) {
    if (one.id != supplier) continue;
    return one.free_from && goods >= one.free_from->minor() ? 0 : one.delivery.minor();
  }
  return 0;
}

/// Takes from what is in store and keeps, soonest to perish first, closed packs last; the rest is returned. A
/// closed pack that is opened goes off from then on; of closed ones that which is not whole is opened first.
std::int64_t PlainShop::take(int article, std::int64_t amount, const Rulebook::Day& day) {
  const build::Article& kind = build_.articles[static_cast<std::size_t>(article)];
  std::vector<Lot>& lots = lots_[static_cast<std::size_t>(article)];
  std::stable_sort(lots.begin(), lots.end(), [](const Lot& a, const Lot& b) {
    return a.use_by && (!b.use_by || *a.use_by < *b.use_by);
  });
  std::int64_t closed = 0;
  for (Lot& lot : lots) {
    if (lot.use_by && *lot.use_by < day.last) continue;
    if (kind.keeps_days && !lot.use_by) {
      closed += lot.amount;
      lot.amount = 0;
      continue;
    }
    const std::int64_t taken = std::min(amount, lot.amount);
    lot.amount -= taken;
    amount -= taken;
  }
  const std::int64_t taken = std::min(amount, closed), left = closed - taken;
  const std::int64_t opened = taken > 0 ? left % kind.pack : 0;
  if (opened > 0) lots.push_back({opened, day.bench + *kind.keeps_days});
  if (left > opened) lots.push_back({left - opened, {}});
  return amount - taken;
}

bool PlainShop::free(const build::Article& tool, const Rulebook::Day& day) const {
  for (const build::OnHand& own : build_.on_hand) {
    if (own.article == tool.id) return true;
  }
  return std::any_of(tool.borrow.begin(), tool.borrow.end(), [&](const build::DateRange& range) {
    return range.from <= day.bench && day.last <= range.until;
  });
}

/// Had for nothing on every bench date: nobody buys it, not even to bring an order to where delivery is free.
bool PlainShop::always_free(const build::Article& tool) const {
  return std::all_of(rules_.days_.begin(), rules_.days_.end(),
                     [&](const Rulebook::Day& day) { return free(tool, day); });
}

bool PlainShop::need_goods(const std::map<int, std::int64_t>& needs, int stage, std::vector<Thing>& things) {
  const Rulebook::Day& day = rules_.days_[static_cast<std::size_t>(stage)];
  for (const auto& [a, amount] : needs) {
    const std::int64_t lacking = take(a, amount, day);
    if (lacking == 0) continue;
    const build::Article& article = build_.articles[static_cast<std::size_t>(a)];
    std::int64_t packs = lacking / article.pack;
    if (packs * article.pack < lacking) ++packs;
    things.push_back(thing(a, packs, stage));
    if (things.back().offers.empty()) return false;
    Lot rest{packs * article.pack - lacking, {}};
    if (article.keeps_days) rest.use_by = day.bench + *article.keeps_days;
    lots_[static_cast<std::size_t>(a)].push_back(rest);
  }
  return true;
}

bool PlainShop::need_tools(const Decisions& decisions, const std::vector<int>& tools, int stage,
                           std::vector<Thing>& things) {
  const auto t = static_cast<std::size_t>(stage);
  for (const int k : tools) {
    const build::Article& tool = build_.articles[static_cast<std::size_t>(k)];
    const int bought = decisions.bought[static_cast<std::size_t>(k)];
    if (bought == stage) {
      things.push_back(thing(k, 1, stage));
      if (things.back().offers.empty() || always_free(tool)) return false;
    } else if (!(bought >= 0 && bought < stage) && !free(tool, rules_.days_[t])) {
      if (!tool.hire) return false;
      other_[t] += tool.hire->minor();
    }
  }
  return true;
}

/// Tools of sets of which any will do: those decided on are bought, and the rest is hired at least cost.
bool PlainShop::need_any(const Decisions& decisions, const Rulebook::Done& done, int stage,
                         std::vector<Thing>& things) {
  const auto t = static_cast<std::size_t>(stage);
  std::vector<int> there = done.tools, bought;
  for (const std::vector<int>& set : done.any) {
    for (const int k : set) {
      const int at = decisions.bought[static_cast<std::size_t>(k)];
      if ((at >= 0 && at <= stage) || free(build_.articles[static_cast<std::size_t>(k)], rules_.days_[t]))
        there.push_back(k);
      if (at == stage) bought.push_back(k);
    }
  }
  std::sort(bought.begin(), bought.end());
  bought.erase(std::unique(bought.begin(), bought.end()), bought.end());
  for (const int k : bought) {
    things.push_back(thing(k, 1, stage));
    if (things.back().offers.empty() || always_free(build_.articles[static_cast<std::size_t>(k)]))
      return false;
  }
  const auto hire = least_hire(there, done.any);
  other_[t] += hire.value_or(0);
  return hire.has_value();
}

std::optional<std::int64_t> PlainShop::least_hire(const std::vector<int>& there,
                                                  const std::vector<std::vector<int>>& any) const {
  for (const std::vector<int>& set : any) {
    const auto is_there = [&](int k) { return std::find(there.begin(), there.end(), k) != there.end(); };
    if (std::any_of(set.begin(), set.end(), is_there)) continue;
    std::optional<std::int64_t> least;
    for (const int k : set) {
      const auto& hire = build_.articles[static_cast<std::size_t>(k)].hire;
      if (!hire) continue;
      std::vector<int> more = there;
      more.push_back(k);
      const auto rest = least_hire(more, any);
      if (rest && (!least || *rest + hire->minor() < *least)) least = *rest + hire->minor();
    }
    return least;
  }
  return 0;
}

bool PlainShop::orderable(const build::Offer& offer, int payday) const {
  const Date day = rules_.days_[static_cast<std::size_t>(payday)].payday;
  return (!offer.from || day >= *offer.from) && (!offer.until || day <= *offer.until);
}

/// `goods`: what all goods cost at least, with the choices made so far. Where delivery is charged an order
/// may hold things that could wait, if something in it could not.
void PlainShop::buy(std::size_t at, std::int64_t goods) {
  if (best_ && goods >= *best_) return;
  if (at == things_.size()) {
    const std::optional<std::int64_t> spent = settle();
    if (spent && (!best_ || *spent < *best_)) best_ = spent;
    return;
  }
  const Thing& thing = things_[at];
  for (const int o : thing.offers) {
    const build::Offer& offer =
        build_.articles[static_cast<std::size_t>(thing.article)].offers[static_cast<std::size_t>(o)];
    const std::int64_t price = offer.price.likely.minor() * thing.packs;
    const int last = order_stage(offer, thing.stage);
    for (int p = last; p >= 0 && orderable(offer, p) && (p == last || delivery(offer.supplier, 0) > 0); --p) {
      const auto order = std::make_pair(p, offer.supplier);
      const bool fresh = goods_.count(order) == 0;
      goods_[order] += price;
      pressing_[order] += p == last ? 1 : 0;
      buy(at + 1, goods + price - thing.least);
      goods_[order] -= price;
      pressing_[order] -= p == last ? 1 : 0;
      if (fresh) goods_.erase(order);
    }
  }
}

/// Cash after each payday, with the allowance rounded up.
std::optional<std::int64_t> PlainShop::settle() const {
  std::vector<std::int64_t> paid = other_;
  for (const auto& [where, amount] : goods_) {
    if (pressing_.at(where) == 0) return std::nullopt;
    paid[static_cast<std::size_t>(where.first)] += amount + delivery(where.second, amount);
  }
  std::int64_t cash = build_.money.opening.minor(), spent = 0;
  for (std::size_t t = 0; t < rules_.days_.size(); ++t) {
    const std::int64_t all = paid[t] + (paid[t] * build_.money.allowance_bp + 9999) / 10000;
    cash += rules_.days_[t].cash_in - all;
    spent += all;
    if (cash < rules_.days_[t].floor) return std::nullopt;
  }
  return spent;
}

std::optional<std::int64_t> PlainShop::spend(const Decisions& decisions,
                                             const std::vector<Rulebook::Done>& done) {
  for (std::size_t t = 0; t < done.size(); ++t) {
    const int stage = static_cast<int>(t);
    std::map<int, std::int64_t> needs;
    const auto add = [&](const PlainNeed& need) {
      for (const auto& [article, amount] : need.goods) needs[article] += amount;
    };
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      if (decisions.stage_of[j] != stage) continue;
      add(rules_.job_needs_[j]);
      other_[t] += build_.jobs[j].cost.minor();
    }
    for (const int r : done[t].opened) add(rules_.removal_needs_[static_cast<std::size_t>(r)]);
    std::vector<Thing> things;
    if (!need_goods(needs, stage, things) || !need_tools(decisions, done[t].tools, stage, things) ||
        !need_any(decisions, done[t], stage, things)) {
      return std::nullopt;
    }
    things_.insert(things_.end(), things.begin(), things.end());
  }
  std::int64_t least = 0;
  for (const Thing& thing : things_) least += thing.least;
  buy(0, least);
  return best_;
}

}  // namespace fettlefund::test
