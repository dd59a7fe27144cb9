#include "tests/bench/rules_out.hpp"

#include <algorithm>

namespace fettlefund::bench {
namespace {

using namespace budgets;

template <class Field, class Value>
bool put(Field& field, const Value& value) {
  if (field == value) return false;
  field = value;
  return true;
}

template <class Item>
bool clear(std::vector<Item>& items) {
  const bool had = !items.empty();
  items.clear();
  return had;
}

/// Calls `change` with each item; whether any call changed something. All are called.
template <class Item, class Change>
bool each(std::vector<Item>& items, Change change) {
  bool changed = false;
  for (Item& item : items) changed = change(item) || changed;
  return changed;
}

template <class Change>
bool each_offer(ProblemData& data, Change change) {
  const bool articles = each(data.articles, [&](Article& a) { return each(a.offers, change); });
  const bool tools = each(data.tools, [&](Tool& k) { return each(k.offers, change); });
  return articles || tools;
}

template <class Change>
bool each_need(ProblemData& data, Change change) {
  const bool jobs = each(data.jobs, [&](Job& j) { return each(j.needs, change); });
  const bool removals = each(data.removals, [&](Removal& r) { return each(r.one_use, change); });
  return jobs || removals;
}

bool order(ProblemData& data) {
  return each(data.jobs, [](Job& j) { return clear(j.after); });
}

bool one_of(ProblemData& data) { return clear(data.one_of); }

bool together(ProblemData& data) { return clear(data.together); }

bool fit(ProblemData& data) {
  const bool clashes = clear(data.clashes);
  return clear(data.carriers) || clashes;
}

/// Needs become whole packs (rounded up) and so does stock (rounded down): nothing is left over.
bool rests(ProblemData& data) {
  const bool needs = each_need(data, [&](Need& n) {
    const Quantity pack = data.articles[n.article].pack;
    return put(n.amount, (n.amount + pack - 1) / pack * pack);
  });
  const bool stock = each(data.articles, [](Article& a) {
    const bool changed =
        each(a.on_hand, [&](Lot& lot) { return put(lot.amount, lot.amount / a.pack * a.pack); });
    std::erase_if(a.on_hand, [](const Lot& lot) { return lot.amount == 0; });
    return changed;
  });
  return needs || stock;
}

bool stock(ProblemData& data) {
  return each(data.articles, [](Article& a) { return clear(a.on_hand); });
}

bool keeping(ProblemData& data) {
  return each(data.articles, [](Article& a) {
    const bool lots = each(a.on_hand, [](Lot& lot) { return put(lot.use_by, std::nullopt); });
    return put(a.keeping_days, std::nullopt) || lots;
  });
}

bool offer_dates(ProblemData& data) {
  return each_offer(data, [](Offer& o) {
    const bool from = put(o.from, std::nullopt);
    return put(o.until, std::nullopt) || from;
  });
}

/// Of several offers only the cheapest stays (the first of these).
bool keep_cheapest(std::vector<Offer>& offers) {
  if (offers.size() < 2) return false;
  const auto cheaper = [](const Offer& a, const Offer& b) { return a.price < b.price; };
  offers = {*std::min_element(offers.begin(), offers.end(), cheaper)};
  return true;
}

bool other_offers(ProblemData& data) {
  const bool articles = each(data.articles, [](Article& a) { return keep_cheapest(a.offers); });
  return each(data.tools, [](Tool& k) { return keep_cheapest(k.offers); }) || articles;
}

bool delivery(ProblemData& data) {
  return each(data.suppliers, [](Supplier& s) { return put(s.delivery, Money()); });
}

bool free_from(ProblemData& data) {
  return each(data.suppliers, [](Supplier& s) { return put(s.free_from, std::nullopt); });
}

/// Everything arrives on the day it is ordered; what is on its way is there.
bool lead_times(ProblemData& data) {
  const bool lots = each(data.articles, [](Article& a) {
    return each(a.on_hand, [](Lot& lot) { return put(lot.from, std::nullopt); });
  });
  return each_offer(data, [](Offer& o) { return put(o.lead_days, 0); }) || lots;
}

bool tools(ProblemData& data) {
  const bool jobs = each(data.jobs, [](Job& j) { return clear(j.tools); });
  return each(data.removals, [](Removal& r) { return clear(r.tools); }) || jobs;
}

bool hire(ProblemData& data) {
  return each(data.tools, [](Tool& k) { return !k.offers.empty() && put(k.hire, std::nullopt); });
}

bool removals(ProblemData& data) {
  return each(data.jobs, [](Job& j) { return clear(j.removals); });
}

/// As much time in every stage as everything takes, each removal for each job anew.
bool bench_time(ProblemData& data) {
  std::int64_t removing = 0;
  std::int64_t all = 0;
  for (const Removal& removal : data.removals) removing += removal.minutes;
  for (const Job& job : data.jobs) all += job.minutes + removing;
  return each(data.stages, [&](Stage& t) { return t.minutes < all && put(t.minutes, all); });
}

bool windows(ProblemData& data) {
  return each(data.jobs, [](Job& j) {
    const bool earliest = put(j.earliest, 0);
    return put(j.latest, -1) || earliest;
  });
}

bool musts(ProblemData& data) {
  return each(data.jobs, [](Job& j) { return put(j.must, false); });
}

/// Cash never falls by itself and nothing has to be left: what may be spent grows from payday to payday.
bool bills(ProblemData& data) {
  return each(data.stages, [](Stage& t) {
    const bool floor = put(t.floor, Money());
    return put(t.cash_in, std::max(t.cash_in, Money())) || floor;
  });
}

bool allowance(ProblemData& data) { return put(data.allowance_bp, 0); }

bool bother(ProblemData& data) { return put(data.bother, 0); }

bool goods(ProblemData& data) {
  const bool jobs = each(data.jobs, [](Job& j) { return clear(j.needs); });
  return each(data.removals, [](Removal& r) { return clear(r.one_use); }) || jobs;
}

bool everything(ProblemData& data) {
  bool changed = false;
  for (const RuleOut& rule : rules_out()) {
    if (rule.take_out != everything) changed = rule.take_out(data) || changed;
  }
  return changed;
}

}  // namespace

const std::vector<RuleOut>& rules_out() {
  static const std::vector<RuleOut> all = {
      {"order (after)", order},
      {"one-of groups", one_of},
      {"together groups", together},
      {"mates and clashes", fit},
      {"packs that leave rests", rests},
      {"stock on hand", stock},
      {"keeping times", keeping},
      {"dates of offers", offer_dates},
      {"dearer offers", other_offers},
      {"delivery", delivery},
      {"free-from amounts", free_from},
      {"lead times", lead_times},
      {"tools", tools},
      {"hire beside buying", hire},
      {"removals", removals},
      {"bench time", bench_time},
      {"windows", windows},
      {"musts", musts},
      {"bills and floors", bills},
      {"allowance", allowance},
      {"bother", bother},
      {"all goods (but tools)", goods},
      {"all of these", everything},
  };
  return all;
}

}  // namespace fettlefund::bench
