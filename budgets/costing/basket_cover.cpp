#include "budgets/costing/basket_cover.hpp"

#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <utility>

namespace fettlefund::budgets {
namespace {

/// A unit of a goal is worth 0 to kUnit of these; money is counted in kUnit-ths beside it.
constexpr std::int64_t kUnit = 4096;

/// Ways for the first things. Ordered by how good they are.
struct Partial {
  std::int64_t total = 0;
  std::vector<std::int64_t> by_payday;
  std::vector<int> offers;
  std::vector<std::int64_t> reached;  ///< by goal, no more than the goal
  std::vector<int> ways;

  bool before(const Partial& other) const {
    if (total != other.total) return total < other.total;
    if (by_payday != other.by_payday) return by_payday < other.by_payday;
    return offers < other.offers;
  }
};

/// What the cheapest ways come to when each unit that counts towards a goal is rewarded by the goal's price.
struct Answer {
  std::int64_t money = 0;
  std::int64_t rewarded = 0;          ///< money less rewards, in kUnit-ths
  std::vector<std::int64_t> reached;  ///< by goal
};

/// What the things from one on can come to.
struct Rest {
  std::int64_t rewarded = 0;       ///< the least, in kUnit-ths
  std::vector<std::int64_t> most;  ///< by goal: reached if every thing served it
};

/// A price for each goal turns it into a reward, which gives a lower bound on the money of any completion:
/// least rewarded money of the remaining things + price * what is lacking, summed over goals (a Lagrangian
/// bound, valid for any prices >= 0). Good prices and a first full choice keep the partial choices few.
class Cover {
 public:
  explicit Cover(const CoverTask& task) : task_(task), most_(task.most), price_(task.goals.size(), 0) {}
  std::optional<std::vector<int>> run();

 private:
  std::int64_t rewarded(const CoverWay& way) const {
    return way.price * (kUnit - (way.goal < 0 ? 0 : price_[static_cast<std::size_t>(way.goal)]));
  }
  const Answer& answer();
  void note(const Answer& answer);
  std::int64_t bound(const Answer& answer) const;
  void find_price(std::size_t goal);
  void balance_prices();
  void look_ahead();
  bool hopeless(const Partial& partial, const Rest& rest) const;
  void extend(const Partial& partial, std::size_t thing, std::vector<Partial>& next) const;
  std::int64_t bound_so_far(const Partial& partial) const;
  bool narrow(std::vector<Partial>& partials, std::size_t width) const;
  std::vector<Partial> choices(std::size_t width, bool& whole) const;
  static void drop_dominated(std::vector<Partial>& partials);

  const CoverTask& task_;
  std::int64_t most_;                ///< money of the best full choice known
  std::vector<std::int64_t> price_;  ///< by goal, 0 to kUnit
  std::vector<Rest> rest_;           ///< [i]: things from i on
  Answer answer_;                    ///< the last
};

const Answer& Cover::answer() {
  Answer& result = answer_;
  result.money = result.rewarded = 0;
  result.reached.assign(task_.goals.size(), 0);
  for (const auto& ways : task_.things) {
    const CoverWay* best = &ways.front();
    for (const CoverWay& way : ways) {
      const std::int64_t difference = rewarded(way) - rewarded(*best);
      if (difference < 0 || (difference == 0 && way.price > best->price)) best = &way;
    }
    result.money += best->price;
    result.rewarded += rewarded(*best);
    if (best->goal >= 0) result.reached[static_cast<std::size_t>(best->goal)] += best->price;
  }
  return result;
}

/// A full choice that reaches all goals limits the money.
void Cover::note(const Answer& tried) {
  const bool all = std::equal(task_.goals.begin(), task_.goals.end(), tried.reached.begin(),
                              [](std::int64_t want, std::int64_t got) { return want <= got; });
  if (all) most_ = std::min(most_, tried.money);
}

std::int64_t Cover::bound(const Answer& tried) const {
  return std::inner_product(price_.begin(), price_.end(), task_.goals.begin(), tried.rewarded);
}

/// The lowest price at which the rewarded choice reaches this goal, the other prices as they are. Along one
/// price the bound is best there. A choice that reaches all goals limits the money.
void Cover::find_price(std::size_t goal) {
  std::int64_t low = 0;
  std::int64_t high = kUnit;
  while (low < high) {
    price_[goal] = (low + high) / 2;
    const Answer& tried = answer();
    note(tried);
    if (tried.reached[goal] >= task_.goals[goal]) {
      high = price_[goal];
    } else {
      low = price_[goal] + 1;
    }
  }
  price_[goal] = low;
}

/// Moves several prices towards the best bound: up where a goal is missed, down where it is exceeded, in
/// shrinking steps; keeps the best seen.
void Cover::balance_prices() {
  std::vector<std::int64_t> best = price_;
  std::int64_t best_bound = INT64_MIN;
  for (std::int64_t step = kUnit / 4; step > 0; step -= 1 + step / 16) {
    const Answer& tried = answer();
    note(tried);
    if (bound(tried) > best_bound) {
      best_bound = bound(tried);
      best = price_;
    }
    std::int64_t widest = 1;
    for (std::size_t g = 0; g < price_.size(); ++g) {
      widest = std::max(widest, std::abs(task_.goals[g] - tried.reached[g]));
    }
    for (std::size_t g = 0; g < price_.size(); ++g) {
      const std::int64_t move = (task_.goals[g] - tried.reached[g]) * step / widest;
      price_[g] = std::clamp<std::int64_t>(price_[g] + move, 0, kUnit);
    }
  }
  price_ = best;
}

void Cover::look_ahead() {
  for (std::size_t g = 0; g < task_.goals.size(); ++g) find_price(g);
  if (task_.goals.size() > 1) balance_prices();
  rest_.assign(task_.things.size() + 1, {0, std::vector<std::int64_t>(task_.goals.size(), 0)});
  for (std::size_t i = task_.things.size(); i-- > 0;) {
    rest_[i] = rest_[i + 1];
    std::int64_t least = INT64_MAX;
    std::vector<std::int64_t> most(task_.goals.size(), 0);
    for (const CoverWay& way : task_.things[i]) {
      least = std::min(least, rewarded(way));
      if (way.goal >= 0) most[static_cast<std::size_t>(way.goal)] = std::max(most[way.goal], way.price);
    }
    rest_[i].rewarded += least;
    for (std::size_t g = 0; g < most.size(); ++g) rest_[i].most[g] += most[g];
  }
}

/// Whether no completion reaches all goals with the money.
bool Cover::hopeless(const Partial& partial, const Rest& rest) const {
  for (std::size_t g = 0; g < task_.goals.size(); ++g) {
    if (task_.goals[g] - partial.reached[g] > rest.most[g]) return true;
  }
  return bound_so_far(partial) + rest.rewarded > most_ * kUnit;
}

/// The bound less what the remaining things add, in kUnit-ths.
std::int64_t Cover::bound_so_far(const Partial& partial) const {
  std::int64_t bound = partial.total * kUnit;
  for (std::size_t g = 0; g < task_.goals.size(); ++g)
    bound += price_[g] * (task_.goals[g] - partial.reached[g]);
  return bound;
}

void Cover::extend(const Partial& partial, std::size_t thing, std::vector<Partial>& next) const {
  const std::vector<CoverWay>& ways = task_.things[thing];
  for (std::size_t w = 0; w < ways.size(); ++w) {
    Partial longer = partial;
    longer.total += ways[w].price;
    longer.by_payday[ways[w].payday] += ways[w].price;
    longer.offers.push_back(ways[w].offer);
    longer.ways.push_back(static_cast<int>(w));
    if (ways[w].goal >= 0) {
      std::int64_t& reached = longer.reached[ways[w].goal];
      reached = std::min(reached + ways[w].price, task_.goals[ways[w].goal]);
    }
    if (!hopeless(longer, rest_[thing + 1])) next.push_back(std::move(longer));
  }
}

void Cover::drop_dominated(std::vector<Partial>& partials) {
  std::sort(partials.begin(), partials.end(), [](const Partial& a, const Partial& b) { return a.before(b); });
  std::vector<Partial> kept;
  for (Partial& partial : partials) {
    const bool dominated = std::any_of(kept.rbegin(), kept.rend(), [&](const Partial& better) {
      return std::equal(partial.reached.begin(), partial.reached.end(), better.reached.begin(),
                        [](std::int64_t a, std::int64_t b) { return a <= b; });
    });
    if (!dominated) kept.push_back(std::move(partial));
  }
  partials = std::move(kept);
}

/// Keeps the `width` partial choices of the least bound; true if that dropped any.
bool Cover::narrow(std::vector<Partial>& partials, std::size_t width) const {
  if (partials.size() <= width) return false;
  const auto bound_before = [&](const Partial& a, const Partial& b) {
    const std::int64_t bound_a = bound_so_far(a);
    const std::int64_t bound_b = bound_so_far(b);
    return bound_a != bound_b ? bound_a < bound_b : a.before(b);
  };
  std::sort(partials.begin(), partials.end(), bound_before);
  partials.resize(width);
  std::sort(partials.begin(), partials.end(), [](const Partial& a, const Partial& b) { return a.before(b); });
  return true;
}

/// The full choices left at the end, best first; `whole` says whether none was dropped for lack of width.
std::vector<Partial> Cover::choices(std::size_t width, bool& whole) const {
  Partial none;
  none.by_payday.assign(static_cast<std::size_t>(task_.paydays), 0);
  none.reached.assign(task_.goals.size(), 0);
  std::vector<Partial> partials;
  if (!hopeless(none, rest_.front())) partials.push_back(none);
  whole = true;
  for (std::size_t i = 0; i < task_.things.size(); ++i) {
    std::vector<Partial> next;
    for (const Partial& partial : partials) extend(partial, i, next);
    drop_dominated(next);
    if (narrow(next, width)) whole = false;
    partials = std::move(next);
  }
  return partials;
}

/// First with little width, which mostly suffices and else limits the money, then with all.
std::optional<std::vector<int>> Cover::run() {
  look_ahead();
  bool whole = true;
  std::vector<Partial> found = choices(task_.first_width, whole);
  if (!whole) {
    if (!found.empty()) most_ = std::min(most_, found.front().total);
    found = choices(SIZE_MAX, whole);
  }
  if (found.empty()) return {};
  return found.front().ways;
}

}  // namespace

std::optional<std::vector<int>> cover(const CoverTask& task) { return Cover(task).run(); }

}  // namespace fettlefund::budgets
