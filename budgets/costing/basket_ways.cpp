#include "budgets/costing/basket_ways.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace fettlefund::budgets {
namespace {

constexpr std::int64_t whole = 10000;  ///< basis points

bool is_free(const Supplier& supplier, Money goods) {
  return supplier.free_from && goods >= *supplier.free_from;
}

Money charge(const Supplier& supplier, Money goods) {
  return is_free(supplier, goods) ? Money() : supplier.delivery;
}

const OpenOrder* find(const std::vector<OpenOrder>& orders, const OpenOrder& like) {
  const auto place = std::lower_bound(orders.begin(), orders.end(), like, earlier);
  return place == orders.end() || earlier(like, *place) ? nullptr : &*place;
}

std::int64_t total(const Tally& tally) {
  return std::accumulate(tally.paid.begin(), tally.paid.end(), tally.closed);
}

}  // namespace

std::vector<std::int64_t> spending_caps(const ProblemData& data) {
  std::vector<std::int64_t> caps;
  Money cash = data.opening;
  for (const Stage& stage : data.stages) {
    cash += stage.cash_in;
    caps.push_back((cash - stage.floor).minor());
  }
  for (int t = static_cast<int>(caps.size()) - 2; t >= 0; --t) caps[t] = std::min(caps[t], caps[t + 1]);
  return caps;
}

/// Adds the tally in which the line goes to that payday's order.
void BasketWays::put(const Tally& from, const Line& line, const Way& way, int payday,
                     std::vector<Tally>& to) {
  ++work_;
  Tally& tally = to.emplace_back(from);
  const Money goods = way.price * line.what.packs;
  const Supplier& supplier = problem_.data().suppliers[way.supplier];
  tally.picks.push_back({way.offer, way.stage - payday});
  std::int64_t& paid = tally.paid[payday];
  paid += goods.minor();
  if (!charges_delivery(supplier)) return;
  const OpenOrder fresh{payday, way.supplier, goods, payday < way.stage};
  const auto place = std::lower_bound(tally.orders.begin(), tally.orders.end(), fresh, earlier);
  if (place == tally.orders.end() || earlier(fresh, *place)) {
    paid += charge(supplier, goods).minor();
    tally.orders.insert(place, fresh);
    return;
  }
  paid += (charge(supplier, place->goods + goods) - charge(supplier, place->goods)).minor();
  place->goods += goods;
  place->waits = place->waits && fresh.waits;
}

/// Whether an order placed too early may yet be joined by a line that cannot wait: of this stage, or later.
bool BasketWays::may_wait(int payday, int supplier, int stage, const Line* from, const Line* to) const {
  if (buyer_.last_call(payday, supplier) > stage) return true;
  for (const Line* line = from; line != to; ++line) {
    for (const Way& way : *line->ways) {
      if (way.stage == payday && way.supplier == supplier) return true;
    }
  }
  return false;
}

void BasketWays::branch(const Tally& from, int stage, const Line* line, const Line* rest_end,
                        std::vector<Tally>& to) {
  for (const Way& way : *line->ways) {
    put(from, *line, way, way.stage, to);
    if (!charges_delivery(problem_.data().suppliers[way.supplier])) continue;
    for (int p = way.first; p < way.stage; ++p) {
      const bool placed = find(from.orders, {p, way.supplier, {}, false}) != nullptr;
      if (placed || may_wait(p, way.supplier, stage, line + 1, rest_end)) put(from, *line, way, p, to);
    }
  }
}

/// Whether no cap is broken, or what is too much may come back as a delivery.
bool BasketWays::affordable(const Tally& tally, const Limits& limits) const {
  if (limits.caps == nullptr) return true;
  const std::int64_t bp = problem_.data().allowance_bp;
  std::int64_t least = tally.closed;
  std::int64_t sum = 0;
  for (int p = limits.first; p < static_cast<int>(tally.paid.size()); ++p) {
    std::int64_t bare = tally.paid[p];
    for (const OpenOrder& order : tally.orders) {
      const Supplier& supplier = problem_.data().suppliers[order.supplier];
      if (order.stage == p && supplier.free_from && !is_free(supplier, order.goods))
        bare -= supplier.delivery.minor();
    }
    least += bare + percentage_rounded_up(Money::of_minor(bare), bp).minor();
    sum += bare;
    const std::int64_t cap = std::min((*limits.caps)[p], limits.most_money);
    if (least > cap) return false;
    if (limits.reserved == nullptr) continue;
    if ((sum + (*limits.reserved)[p]) * (whole + bp) > (cap - tally.closed) * whole) return false;
  }
  return true;
}

/// What it may cost more, not to have this order of another state: it has to be placed anew to be joined, and
/// the other may yet get its delivery back. `other`: the same payday's and supplier's order; null: none.
/// `same`: set to false if it is not there as good or better.
std::int64_t BasketWays::regret(const OpenOrder& order, const OpenOrder* other, bool& same) const {
  const Supplier& supplier = problem_.data().suppliers[order.supplier];
  const std::int64_t delivery = supplier.delivery.minor();
  const std::int64_t back = supplier.free_from && !is_free(supplier, order.goods) ? delivery : 0;
  if (other == nullptr) {
    same = false;
    return delivery + back;
  }
  if (other->waits && !order.waits) same = false;
  // Only what has been paid can come back.
  const bool as_good =
      !supplier.free_from || (is_free(supplier, other->goods) == is_free(supplier, order.goods) &&
                              other->goods >= std::min(order.goods, *supplier.free_from));
  if (!as_good) same = false;
  return as_good ? 0 : back;
}

/// Fills `more_`: of each payday what `a` may have to pay more for not having the orders of `b`. False once
/// that is more than it has paid less in all.
bool BasketWays::regrets(const Standing& a, const Standing& b, bool& same) const {
  const std::int64_t with_allowance = whole + problem_.data().allowance_bp;
  std::int64_t spare = (b.closed - a.closed) * whole;
  for (int p = 0; p < a.paydays; ++p) spare += (b.paid[p] - a.paid[p]) * with_allowance;
  more_.assign(static_cast<std::size_t>(a.paydays), 0);
  auto own = a.orders.begin();
  for (const OpenOrder& order : b.orders) {
    for (; own != a.orders.end() && earlier(*own, order); ++own) same = same && !own->waits;
    const bool has = own != a.orders.end() && !earlier(order, *own);
    const std::int64_t more = regret(order, has ? &*own : nullptr, same);
    more_[order.stage - a.first] += more;
    spare -= more * with_allowance;
    if (spare < 0) return false;
    if (has) ++own;
  }
  for (; own != a.orders.end(); ++own) same = same && !own->waits;
  return true;
}

bool BasketWays::ahead_somewhere(const Standing& a, const Standing& b) const {
  const std::int64_t with_allowance = whole + problem_.data().allowance_bp;
  std::int64_t ahead = (a.closed - b.closed) * whole;
  if (ahead > 0) return true;
  for (int p = 0; p < a.paydays; ++p) {
    ahead += (a.paid[p] - b.paid[p]) * with_allowance;
    if (ahead > 0) return true;
  }
  return false;
}

Match BasketWays::match(const Standing& a, const Standing& b) const {
  if (ahead_somewhere(a, b)) return Match::none;
  bool same = true;
  if (!regrets(a, b, same)) return Match::none;
  const std::int64_t bp = problem_.data().allowance_bp;
  bool each = a.closed <= b.closed, equal = a.closed == b.closed, sums = true;
  // With an allowance sums are compared exactly; each payday that may differ can round up by less than one.
  const int differ = same ? a.paydays : problem_.stage_count() - a.first;
  const std::int64_t slack = bp == 0 ? 0 : differ * whole;
  std::int64_t ahead = (a.closed - b.closed) * whole + slack;
  for (int p = 0; p < a.paydays; ++p) {
    each &= a.paid[p] <= b.paid[p];
    equal &= a.paid[p] == b.paid[p];
    ahead += (a.paid[p] + more_[p] - b.paid[p]) * (whole + bp);
    sums &= ahead <= 0;
  }
  if (same && equal) return Match::equal;
  if (same && each) return Match::less;
  if (!sums || ahead > 0) return Match::none;
  if (ahead < 0 || bp != 0) return Match::less;
  return same ? Match::later : Match::level;
}

Standing BasketWays::standing(const Tally& tally) const {
  return {tally.orders, tally.paid.data(), 0, static_cast<int>(tally.paid.size()), tally.closed};
}

/// With the same total that one is better which pays later; with all the same, the lower picks are.
bool BasketWays::outdoes(const Tally& a, const Tally& b) const {
  switch (match(standing(a), standing(b))) {
    case Match::none:
    case Match::level:
      return false;
    case Match::equal:
      return a.picks <= b.picks;
    default:
      return true;
  }
}

/// Makes one of all from the last that the width has room for.
void BasketWays::join_beyond(std::size_t width, std::vector<Tally>& tallies) const {
  if (tallies.size() <= width) return;
  tallies[width - 1] = joined(tallies.data() + width - 1, tallies.data() + tallies.size());
  tallies.resize(width);
}

/// The order in which a narrow search keeps them: less money first, then money paid later.
void BasketWays::sort_by_money(std::vector<Tally>& tallies) {
  std::vector<std::pair<std::int64_t, std::size_t>> ranks;
  for (std::size_t i = 0; i < tallies.size(); ++i) ranks.emplace_back(total(tallies[i]), i);
  std::sort(ranks.begin(), ranks.end(), [&](const auto& x, const auto& y) {
    if (x.first != y.first) return x.first < y.first;
    const Tally &a = tallies[x.second], &b = tallies[y.second];
    return std::tie(a.paid, a.picks, a.orders) < std::tie(b.paid, b.picks, b.orders);
  });
  std::vector<Tally> sorted;
  sorted.reserve(tallies.size());
  for (const auto& rank : ranks) sorted.push_back(std::move(tallies[rank.second]));
  tallies = std::move(sorted);
}

/// Fills `sums_` with a row for each tally: what is paid up to each payday, weighted as `ahead_somewhere`
/// does.
void BasketWays::add_up(const std::vector<Tally>& tallies) {
  const std::int64_t with_allowance = whole + problem_.data().allowance_bp;
  sums_.clear();
  for (const Tally& tally : tallies) {
    std::int64_t sum = tally.closed * whole;
    sums_.push_back(sum);
    for (const std::int64_t paid : tally.paid) sums_.push_back(sum += paid * with_allowance);
  }
}

/// `ahead_somewhere` for tallies i and j of `sums_`.
bool BasketWays::is_ahead(std::size_t i, std::size_t j, std::size_t row) const {
  const std::int64_t *a = sums_.data() + i * row, *b = sums_.data() + j * row;
  if (a[row - 1] > b[row - 1]) return true;
  bool ahead = false;
  for (std::size_t p = 0; p < row; ++p) ahead |= a[p] > b[p];
  return ahead;
}

/// Drops what another outdoes; they are in order. From the first on of which there are more than `most` that
/// nothing outdoes, the rest is only kept.
void BasketWays::drop_outdone(std::size_t most, std::vector<Tally>& tallies) {
  if (tallies.empty()) return;
  add_up(tallies);
  const std::size_t row = tallies.front().paid.size() + 1;
  const auto beats = [&](std::size_t i, std::size_t j) {
    return !is_ahead(i, j, row) && outdoes(tallies[i], tallies[j]);
  };
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < tallies.size(); ++i) {
    if (kept.size() > most) {
      kept.push_back(i);
      continue;
    }
    work_ += 1 + 2 * static_cast<std::int64_t>(kept.size());
    if (std::any_of(kept.begin(), kept.end(), [&](std::size_t k) { return beats(k, i); })) continue;
    std::erase_if(kept, [&](std::size_t k) { return beats(i, k); });
    kept.push_back(i);
  }
  std::vector<Tally> left;
  left.reserve(kept.size());
  for (const std::size_t k : kept) left.push_back(std::move(tallies[k]));
  tallies = std::move(left);
}

bool BasketWays::thin(const Limits& limits, std::vector<Tally>& tallies) {
  std::erase_if(tallies, [&](const Tally& t) { return !affordable(t, limits); });
  sort_by_money(tallies);
  // To find out what outdoes what among many takes longer than it is worth.
  if (limits.join) join_beyond(2 * limits.width, tallies);
  drop_outdone(limits.join ? tallies.size() : limits.width, tallies);
  if (tallies.size() <= limits.width) return true;
  if (limits.join) {
    join_beyond(limits.width, tallies);
    return true;
  }
  // Besides the cheapest the one that pays least up to the payday before the last.
  const auto latest = std::min_element(tallies.begin(), tallies.end(),
                                       [](const Tally& a, const Tally& b) { return a.paid < b.paid; });
  if (latest - tallies.begin() >= static_cast<std::ptrdiff_t>(limits.width))
    std::iter_swap(tallies.begin() + static_cast<std::ptrdiff_t>(limits.width) - 1, latest);
  tallies.resize(limits.width);
  return false;
}

/// Every order of any of them. Of equal ones nothing changes; others are free of delivery from now on.
void BasketWays::join_orders(const Tally* tally, const Tally* end, std::vector<OpenOrder>& orders) const {
  for (const Tally* t = tally; t != end; ++t) {
    for (const OpenOrder& order : t->orders) {
      const auto place = std::lower_bound(orders.begin(), orders.end(), order, earlier);
      if (place == orders.end() || earlier(order, *place)) {
        orders.insert(place, order);
        continue;
      }
      place->waits = place->waits && order.waits;
    }
  }
  for (OpenOrder& order : orders) {
    const auto has_same = [&](const Tally& t) {
      const OpenOrder* own = find(t.orders, order);
      return own != nullptr && own->goods == order.goods;
    };
    const auto has = [&](const Tally& t) { return find(t.orders, order) != nullptr; };
    order.waits = order.waits && std::all_of(tally, end, has);
    if (std::all_of(tally, end, has_same)) continue;
    order.goods = problem_.data().suppliers[order.supplier].free_from.value_or(Money());
  }
}

Tally BasketWays::joined(const Tally* tally, const Tally* end) const {
  Tally all;
  join_orders(tally, end, all.orders);
  const std::size_t paydays = tally->paid.size();
  std::int64_t used = 0;
  for (std::size_t p = 0; p < paydays; ++p)
    used += std::any_of(tally, end, [p](const Tally& t) { return t.paid[p] != 0; });
  std::vector<std::int64_t> least(paydays, 0);
  for (const Tally* t = tally; t != end; ++t) {
    std::vector<std::int64_t> paid = t->paid;
    for (const OpenOrder& own : t->orders) {
      const Supplier& supplier = problem_.data().suppliers[own.supplier];
      // What may yet come back, where the order of all has nothing to give back.
      if (find(all.orders, own)->goods != own.goods && supplier.free_from && !is_free(supplier, own.goods))
        paid[own.stage] -= supplier.delivery.minor();
    }
    std::partial_sum(paid.begin(), paid.end(), paid.begin());
    for (std::size_t p = 0; p < paydays; ++p) least[p] = t == tally ? paid[p] : std::min(least[p], paid[p]);
  }
  all.paid = std::move(least);
  std::adjacent_difference(all.paid.begin(), all.paid.end(), all.paid.begin());
  const auto [low, high] =
      std::minmax_element(tally, end, [](const Tally& a, const Tally& b) { return a.closed < b.closed; });
  all.closed = low->closed;
  // Divided otherwise over paydays, the allowance may be rounded up once more on each. For those joined
  // before some of that has been allowed for.
  if (problem_.data().allowance_bp != 0) all.closed = std::min(low->closed, high->closed - used);
  all.picks = tally->picks;
  return all;
}

bool BasketWays::extend(int stage, const Line* line, const Line* rest_end, const Limits& limits,
                        std::vector<Tally>& tallies) {
  std::vector<Tally> next;
  for (const Tally& tally : tallies) branch(tally, stage, line, rest_end, next);
  const bool choice = next.size() > 1;
  tallies = std::move(next);
  if (choice) return thin(limits, tallies);
  std::erase_if(tallies, [&](const Tally& t) { return !affordable(t, limits); });
  return true;
}

void BasketWays::forget(int next, std::vector<Tally>& tallies) const {
  std::erase_if(tallies, [&](const Tally& tally) {
    return std::any_of(tally.orders.begin(), tally.orders.end(), [&](const OpenOrder& o) {
      return o.waits && buyer_.last_call(o.stage, o.supplier) < next;
    });
  });
  for (Tally& tally : tallies) {
    std::erase_if(tally.orders,
                  [&](const OpenOrder& o) { return buyer_.last_join(o.stage, o.supplier) < next; });
    for (OpenOrder& order : tally.orders) {
      const auto free_from = problem_.data().suppliers[order.supplier].free_from;
      order.goods = free_from ? std::min(order.goods, *free_from) : Money();
    }
  }
}

}  // namespace fettlefund::budgets
