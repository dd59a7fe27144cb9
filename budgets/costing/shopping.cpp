#include "budgets/costing/shopping.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "budgets/costing/basket_style.hpp"

namespace fettlefund::budgets {
namespace {

/// Tallies kept at first; eight times as many follow, as long as the work so far was small.
constexpr std::size_t first_width = 16;
constexpr std::size_t last_width = 8192;
constexpr std::int64_t most_work = 60'000;
constexpr std::int64_t far_too_much_work = 5 * most_work;  ///< then a round is given up

/// What a way of buying comes to. Ordered: less is better.
struct Figure {
  std::int64_t lack = 0;
  std::int64_t spent = 0;
  std::int64_t bare = 0;
  std::vector<std::int64_t> paid;
  std::vector<Pick> picks;
  friend auto operator<=>(const Figure&, const Figure&) = default;
};

class Shopping {
 public:
  Shopping(const Problem& problem, const Buyer& buyer, const ShoppingList& list)
      : problem_(problem),
        data_(problem.data()),
        buyer_(buyer),
        list_(list),
        baskets_(data_, buyer, list.lines),
        caps_(spending_caps(data_)) {}

  /// Without `lacking` it gives up early where no way seems affordable.
  std::vector<Pick> best(bool lacking);
  std::int64_t work() const { return work_ + baskets_.work(); }

 private:
  void note(std::vector<Pick> picks);
  bool settle(Figure& figure) const;
  bool improves(const std::vector<Style>& styles);
  void try_styles();
  std::vector<std::int64_t> sure_from(int stage, std::size_t line) const;
  bool follow(std::size_t width, bool capped);
  bool widen(bool capped);
  void polish();
  bool change(std::size_t at, const std::vector<Way>& ways);

  const Problem& problem_;
  const ProblemData& data_;
  const Buyer& buyer_;
  const ShoppingList& list_;
  StyledBaskets baskets_;
  std::vector<std::int64_t> caps_;
  std::optional<Figure> best_;
  bool left_out_ = false;  ///< by the last `follow`
  bool lacking_ = true;
  bool gave_up_ = false;
  std::int64_t work_ = 0;
};

/// Adds up each payday. False where an order could wait.
bool Shopping::settle(Figure& figure) const {
  figure.paid = list_.fees;
  std::map<std::pair<int, int>, std::pair<Money, bool>> orders;  // goods, and whether some line cannot wait
  auto pick = figure.picks.begin();
  for (const auto& lines : list_.lines) {
    for (const Line& line : lines) {
      const Way& way = way_of(*line.ways, pick->offer);
      auto& [goods, presses] = orders[{way.stage - pick->before_last, way.supplier}];
      goods += way.price * line.what.packs;
      presses |= pick->before_last == 0;
      ++pick;
    }
  }
  for (const auto& [where, order] : orders) {
    const auto& [goods, presses] = order;
    if (!presses) return false;
    const Supplier& supplier = data_.suppliers[where.second];
    const bool free = supplier.free_from && goods >= *supplier.free_from;
    figure.paid[where.first] += (free ? goods : goods + supplier.delivery).minor();
  }
  for (std::size_t p = 0; p < figure.paid.size(); ++p) {
    const Money bare = Money::of_minor(figure.paid[p]);
    figure.bare += bare.minor();
    figure.spent += bare.minor() + percentage_rounded_up(bare, data_.allowance_bp).minor();
    figure.lack = std::max(figure.lack, figure.spent - caps_[p]);
  }
  return true;
}

void Shopping::note(std::vector<Pick> picks) {
  Figure figure;
  figure.picks = std::move(picks);
  if (settle(figure) && (!best_ || figure < *best_)) best_ = std::move(figure);
}

/// Whether the basket of these styles is better than the best.
bool Shopping::improves(const std::vector<Style>& styles) {
  const Figure before = *best_;
  note(baskets_.picks(styles));
  return *best_ < before;
}

/// Those given; then, where the cheapest ways lack money, other styles, stage by stage, as long as one lacks
/// less.
void Shopping::try_styles() {
  std::vector<Style> styles(list_.lines.size());
  std::vector<Style> given = list_.styles;
  given.resize(styles.size());
  if (!list_.styles.empty() && improves(given)) styles = std::move(given);
  for (bool better = best_->lack > 0; better;) {
    better = false;
    for (std::size_t t = 0; t < styles.size(); ++t) {
      if (list_.lines[t].empty()) continue;
      for (const Style style : all_styles) {
        const Style before = std::exchange(styles[t], style);
        const bool good = improves(styles);
        if (!good) styles[t] = before;
        better |= good && best_->lack > 0;
      }
    }
  }
}

/// [payday] what lines from this one on are sure to pay up to and including it, fees of later stages too.
std::vector<std::int64_t> Shopping::sure_from(int stage, std::size_t line) const {
  std::vector<std::int64_t> sure(list_.fees.size(), 0);
  for (std::size_t t = stage; t < list_.lines.size(); ++t) {
    if (static_cast<int>(t) > stage) sure[t] += list_.fees[t];
    const auto& lines = list_.lines[t];
    for (std::size_t i = static_cast<int>(t) == stage ? line : 0; i < lines.size(); ++i) {
      const auto& ways = *lines[i].ways;
      Money least = ways.front().price;
      int last = 0;
      for (const Way& way : ways) {
        least = std::min(least, way.price);
        last = std::max(last, way.stage);
      }
      sure[last] += (least * lines[i].what.packs).minor();
    }
  }
  std::partial_sum(sure.begin(), sure.end(), sure.begin());
  return sure;
}

/// True if no way was left out that could be better, or enough has been done. Not `capped`: one that lacks
/// money, but no more than the best known, may be as well.
bool Shopping::follow(std::size_t width, bool capped) {
  std::vector<std::int64_t> caps = caps_;
  if (!capped) {
    for (std::int64_t& cap : caps) cap += best_->lack;
  }
  BasketWays ways(problem_, buyer_);
  std::vector<Tally> tallies(1);
  tallies[0].paid.assign(list_.fees.size(), 0);
  bool all = true;
  for (int t = 0; t < problem_.stage_count(); ++t) {
    for (Tally& tally : tallies) tally.paid[t] += list_.fees[t];
    const auto& lines = list_.lines[t];
    const Line* end = lines.data() + lines.size();
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const std::vector<std::int64_t> sure = sure_from(t, i + 1);
      const std::int64_t most = best_->lack > 0 ? caps.back() : best_->spent;
      const BasketWays::Limits limits{&caps, most, width, &sure, 0};
      all = ways.extend(t, &lines[i], end, limits, tallies) && all;
      if (ways.work() <= far_too_much_work) continue;
      gave_up_ = !lacking_ && best_->lack > 0;
      if (!gave_up_ && width == first_width) continue;
      left_out_ = true;
      work_ += ways.work();
      return true;
    }
    ways.forget(t + 1, tallies);
  }
  for (Tally& tally : tallies) note(std::move(tally.picks));
  left_out_ = !all;
  work_ += ways.work();
  return all || ways.work() > most_work;
}

/// Not to be beaten by another way for one line: `verify` looks at that.
bool Shopping::change(std::size_t at, const std::vector<Way>& ways) {
  const Pick before = best_->picks[at];
  for (const Way& way : ways) {
    const bool charged = charges_delivery(data_.suppliers[way.supplier]);
    for (int p = way.stage; p >= way.first && (charged || p == way.stage); --p) {
      std::vector<Pick> picks = best_->picks;
      picks[at] = {way.offer, way.stage - p};
      note(std::move(picks));
    }
  }
  return best_->picks[at] != before;
}

void Shopping::polish() {
  for (bool better = true; better;) {
    better = false;
    std::size_t at = 0;
    for (const auto& lines : list_.lines) {
      for (const Line& line : lines) better |= change(at++, *line.ways);
    }
  }
}

/// False if some ways were never looked at.
bool Shopping::widen(bool capped) {
  for (std::size_t width = first_width; width <= last_width; width *= 8) {
    left_out_ = false;
    if (follow(width, capped)) return !left_out_;
  }
  return false;
}

std::vector<Pick> Shopping::best(bool lacking) {
  lacking_ = lacking;
  note(baskets_.picks(std::vector<Style>(list_.lines.size())));
  try_styles();
  const bool all = widen(true);
  if (!all && !gave_up_) polish();
  if (lacking && best_->lack > 0) widen(false);
  return std::move(best_->picks);
}

}  // namespace

std::vector<Pick> best_way(const Problem& problem, const Buyer& buyer, const ShoppingList& list, bool lacking,
                           std::int64_t& work) {
  Shopping shopping(problem, buyer, list);
  std::vector<Pick> picks = shopping.best(lacking);
  work += shopping.work();
  return picks;
}

}  // namespace fettlefund::budgets
