#include <algorithm>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

GoodsLine::Buy RelaxedGoods::buy(const Way& way, int stage, std::int64_t packs) const {
  return {way.supplier, way.stage == stage, way.first < stage, (way.price * packs).minor(),
          delivery_.price(way, packs)};
}

GoodsLine RelaxedGoods::line_of_unit(int unit, const Need& need) const {
  GoodsLine line;
  line.unit = unit;
  line.stages.resize(model_.stage_count());
  for (int t = 0; t < model_.stage_count(); ++t) {
    const std::int64_t packs = packs_lacking(need, t);
    if (packs == 0 || !model_.allowed(unit, t)) continue;
    for (const Way& way : model_.buyer().article_ways(need.article, t))
      line.stages[t].buys.push_back(buy(way, t, packs));
  }
  return line;
}

/// One of which so much is counted besides; `ways`: [stage].
GoodsLine RelaxedGoods::line_of_one(std::int64_t cost,
                                    const std::function<const std::vector<Way>&(int stage)>& ways) const {
  GoodsLine line;
  line.stages.resize(model_.stage_count(), {cost, {}});
  for (int t = 0; t < model_.stage_count(); ++t) {
    for (const Way& way : ways(t)) line.stages[t].buys.push_back(buy(way, t, 1));
  }
  return line;
}

int RelaxedGoods::tool_onces() const {
  return static_cast<int>(
      std::count_if(tools_.begin(), tools_.end(), [](const ToolCost& t) { return t.once > 0; }));
}

std::vector<int> RelaxedGoods::kept() const {
  std::vector<int> found;
  for (std::size_t a = 0; a < use_.size(); ++a) {
    const bool rests = use_[a] == Use::shared || use_[a] == Use::pack;
    if (use_[a] != Use::none && (rests || on_hand_[a] > 0)) found.push_back(static_cast<int>(a));
  }
  return found;
}

/// Whether a stage may buy other amounts of it than its units do for themselves.
bool RelaxedGoods::is_bought_piecemeal(int article) const {
  const auto rests = kept();
  if (std::binary_search(rests.begin(), rests.end(), article)) return true;
  const auto& removals = model_.data().removals;
  return std::any_of(removals.begin(), removals.end(), [&](const Removal& removal) {
    return std::any_of(removal.one_use.begin(), removal.one_use.end(),
                       [&](const Need& need) { return need.article == article; });
  });
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
    if (!model_.data().tools[k].hire) {
      found.push_back(line_of_one(tools_[k].once, ways));
      found.back().once = once;
    }
    ++once;
  }
  for (std::size_t a = 0; a < use_.size(); ++a) {
    if (use_[a] == Use::none || !is_bought_piecemeal(static_cast<int>(a))) continue;
    const auto ways = [&](int t) -> const std::vector<Way>& {
      return buyer.article_ways(static_cast<int>(a), t);
    };
    found.push_back(line_of_one(0, ways));
    found.back().article = static_cast<int>(a);
  }
  return found;
}

}  // namespace fettlefund::budgets::search
