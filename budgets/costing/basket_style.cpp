#include "budgets/costing/basket_style.hpp"

#include <algorithm>
#include <iterator>
#include <optional>

#include "budgets/costing/basket_choice.hpp"

namespace fettlefund::budgets {
namespace {

constexpr std::int64_t work_of_line = 100;  ///< of a basket

/// The ways of a thing that are paid on the last payday of all.
std::vector<Way> latest(const std::vector<Way>& ways) {
  int last = 0;
  for (const Way& way : ways) last = std::max(last, way.stage);
  std::vector<Way> kept;
  std::copy_if(ways.begin(), ways.end(), std::back_inserter(kept),
               [last](const Way& way) { return way.stage == last; });
  return kept;
}

/// Gives up new orders that pay a delivery, where all that goes into them can join other orders for less.
class Joining {
 public:
  Joining(const ProblemData& data, const std::vector<OpenOrder>& placed, const std::vector<Wanted>& wanted,
          std::vector<Way>& chosen)
      : data_(data), placed_(placed), wanted_(wanted), chosen_(chosen) {}

  void run() {
    for (std::size_t i = 0; i < chosen_.size(); ++i) {
      if (pays_delivery(chosen_[i])) dissolve(chosen_[i].stage, chosen_[i].supplier);
    }
  }

 private:
  bool in(const Way& way, int payday, int supplier) const {
    return way.stage == payday && way.supplier == supplier;
  }

  bool is_placed(int payday, int supplier) const {
    return std::any_of(placed_.begin(), placed_.end(), [&](const OpenOrder& order) {
      return order.stage == payday && order.supplier == supplier;
    });
  }

  /// Whether it goes into an order that is new and not free.
  bool pays_delivery(const Way& way) const {
    const Supplier& supplier = data_.suppliers[way.supplier];
    if (!charges_delivery(supplier) || is_placed(way.stage, way.supplier)) return false;
    Money goods;
    for (std::size_t i = 0; i < chosen_.size(); ++i) {
      if (in(chosen_[i], way.stage, way.supplier)) goods += chosen_[i].price * wanted_[i].packs;
    }
    return !supplier.free_from || goods < *supplier.free_from;
  }

  /// Whether an order of that payday is there besides that of (payday, supplier).
  bool is_there(int stage, int of, int payday, int supplier) const {
    if (is_placed(stage, of)) return true;
    if (stage == payday && of == supplier) return false;
    return std::any_of(chosen_.begin(), chosen_.end(), [&](const Way& way) { return in(way, stage, of); });
  }

  /// The cheapest way of a thing that joins another order than that, the latest of these; none: no price.
  std::optional<Way> best_joined(const Wanted& one, int payday, int supplier) const {
    std::optional<Way> best;
    for (const Way& way : *one.ways) {
      if (best && best->price <= way.price) continue;
      for (int p = way.stage; p >= way.first; --p) {
        if (!is_there(p, way.supplier, payday, supplier)) continue;
        best = way;
        best->stage = p;
        break;
      }
    }
    return best;
  }

  void dissolve(int payday, int supplier) {
    Money more;
    std::vector<Way> moved = chosen_;
    for (std::size_t i = 0; i < chosen_.size(); ++i) {
      if (!in(chosen_[i], payday, supplier)) continue;
      const std::optional<Way> way = best_joined(wanted_[i], payday, supplier);
      if (!way) return;
      more += (way->price - chosen_[i].price) * wanted_[i].packs;
      moved[i] = *way;
    }
    if (more < data_.suppliers[supplier].delivery) chosen_ = std::move(moved);
  }

  const ProblemData& data_;
  const std::vector<OpenOrder>& placed_;
  const std::vector<Wanted>& wanted_;
  std::vector<Way>& chosen_;
};

}  // namespace

std::vector<Way> choose_in_style(const ProblemData& data, const std::vector<OpenOrder>& placed,
                                 const std::vector<Wanted>& wanted, Style style) {
  std::vector<std::vector<Way>> ways;
  std::vector<Wanted> styled = wanted;
  if (style.late) {
    for (const Wanted& one : wanted) ways.push_back(latest(*one.ways));
    for (std::size_t i = 0; i < wanted.size(); ++i) styled[i].ways = &ways[i];
  }
  const std::vector<int> picks = choose_ways(data, placed, styled);
  std::vector<Way> chosen;
  for (std::size_t i = 0; i < picks.size(); ++i) chosen.push_back((*styled[i].ways)[picks[i]]);
  if (style.joined) Joining(data, placed, styled, chosen).run();
  return chosen;
}

const Way& way_of(const std::vector<Way>& ways, int offer) {
  return *std::find_if(ways.begin(), ways.end(), [offer](const Way& way) { return way.offer == offer; });
}

/// What is bought for a stage in the way that is cheapest in its style.
const std::vector<Pick>& StyledBaskets::picks_of(int stage, Style style, const std::vector<OpenOrder>& open) {
  const auto& lines = lines_[stage];
  const auto [place, fresh] = known_.try_emplace({stage, style, open});
  std::vector<Pick>& picks = place->second;
  work_ += 1;
  if (!fresh) return picks;
  std::vector<Wanted> wanted;
  for (const Line& line : lines) wanted.push_back({line.ways, line.what.packs});
  work_ += work_of_line * static_cast<std::int64_t>(lines.size());
  const std::vector<Way> chosen = choose_in_style(data_, open, wanted, style);
  for (std::size_t i = 0; i < lines.size(); ++i)
    picks.push_back({chosen[i].offer, way_of(*lines[i].ways, chosen[i].offer).stage - chosen[i].stage});
  return picks;
}

/// Each stage in its own way that is cheapest in its style.
std::vector<Pick> StyledBaskets::picks(const std::vector<Style>& styles) {
  std::vector<Pick> picks;
  Stores stores;
  for (std::size_t t = 0; t < lines_.size(); ++t) {
    const auto& lines = lines_[t];
    if (lines.empty()) continue;
    const int stage = static_cast<int>(t);
    buyer_.forget(stage, stores);
    auto& orders = stores.orders;
    const std::vector<Pick>& own = picks_of(stage, styles[t], orders);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const Way& way = way_of(*lines[i].ways, own[i].offer);
      const OpenOrder order{way.stage - own[i].before_last, way.supplier, way.price * lines[i].what.packs,
                            false};
      const auto place = std::lower_bound(orders.begin(), orders.end(), order, earlier);
      if (place != orders.end() && !earlier(order, *place)) {
        place->goods += order.goods;
      } else {
        orders.insert(place, order);
      }
    }
    picks.insert(picks.end(), own.begin(), own.end());
  }
  return picks;
}

}  // namespace fettlefund::budgets
