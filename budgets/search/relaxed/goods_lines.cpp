#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

/// The ways to buy so many packs for a stage, for which the relaxed problem has `base`.
GoodsLine::Stage RelaxedGoods::buys(const std::vector<Way>& ways, int stage, std::int64_t packs,
                                    std::int64_t base) const {
  GoodsLine::Stage found{base, {}};
  for (const Way& way : ways) {
    found.buys.push_back({way.supplier, way.stage == stage, way.first < stage, way.price.minor() * packs,
                          delivery_.price(way, packs)});
  }
  return found;
}

GoodsLine RelaxedGoods::line_of_unit(int unit, const Need& need) const {
  GoodsLine line;
  line.unit = unit;
  line.stages.resize(model_.stage_count());
  for (int t = 0; t < model_.stage_count(); ++t) {
    const std::int64_t packs = packs_lacking(need, t);
    if (packs == 0 || !model_.allowed(unit, t)) continue;
    const std::int64_t base = least_price(need.article, t, packs);
    line.stages[t] = buys(model_.buyer().article_ways(need.article, t), t, packs, base);
  }
  return line;
}

/// A pack or a tool for which the relaxed problem has `cost`; `ways`: [stage].
GoodsLine RelaxedGoods::line_of_once(int once, std::int64_t cost,
                                     const std::function<const std::vector<Way>&(int stage)>& ways) const {
  GoodsLine line;
  line.once = once;
  for (int t = 0; t < model_.stage_count(); ++t) line.stages.push_back(buys(ways(t), t, 1, cost));
  return line;
}

std::vector<GoodsLine> RelaxedGoods::lines() const {
  std::vector<GoodsLine> found;
  for (int u = 0; u < model_.unit_count(); ++u) {
    for (const Need& need : model_.units()[u].needs) {
      if (is_bought(need)) found.push_back(line_of_unit(u, need));
    }
  }
  const Buyer& buyer = model_.buyer();
  int once = 0;  // in the order of `onces`
  for (std::size_t k = 0; k < tools_.size(); ++k) {
    if (tools_[k].once <= 0) continue;
    const auto ways = [&](int t) -> const std::vector<Way>& {
      return buyer.tool_ways(static_cast<int>(k), t);
    };
    if (!model_.data().tools[k].hire) found.push_back(line_of_once(once, tools_[k].once, ways));
    ++once;
  }
  for (std::size_t a = 0; a < use_.size(); ++a) {
    const std::int64_t cost = use_[a] == Use::pack ? pack_price(static_cast<int>(a)) : 0;
    if (cost == 0 || needed_by_[a].empty()) continue;
    const auto ways = [&](int t) -> const std::vector<Way>& {
      return buyer.article_ways(static_cast<int>(a), t);
    };
    found.push_back(line_of_once(once++, cost, ways));
  }
  return found;
}

}  // namespace fettlefund::budgets::search
