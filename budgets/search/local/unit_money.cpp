#include "budgets/search/local/unit_money.hpp"

#include <algorithm>
#include <optional>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {
namespace {

/// Each need in whole packs, in its dearest way, with a delivery of its own.
std::int64_t dearest(const Model& model, const std::vector<Need>& needs, int stage) {
  std::int64_t sum = 0;
  for (const Need& need : needs) {
    const Quantity pack = model.data().articles[need.article].pack;
    std::int64_t most = 0;
    for (const Way& way : model.buyer().article_ways(need.article, stage)) {
      const std::int64_t goods = way.price.minor() * ((need.amount + pack - 1) / pack);
      most = std::max(most, goods + model.data().suppliers[way.supplier].delivery.minor());
    }
    sum += most;
  }
  return sum;
}

/// Hired, or bought as cheaply as can be; the more of the two.
std::int64_t tools_cost(const Model& model, const std::vector<int>& tools, int stage) {
  std::int64_t sum = 0;
  for (const int k : tools) {
    const auto& hire = model.data().tools[k].hire;
    const std::optional<Money> price = least_price(model.buyer().tool_ways(k, stage));
    sum += std::max(hire.value_or(Money()), price.value_or(Money())).minor();
  }
  return sum;
}

std::int64_t most_of(const Model& model, const Unit& unit, int stage) {
  std::int64_t sum = unit.cost + dearest(model, unit.needs, stage) + tools_cost(model, unit.tools, stage);
  for (const int r : unit.removals) {
    const Removal& removal = model.data().removals[r];
    sum += removal.cost.minor() + dearest(model, removal.one_use, stage);
    sum += tools_cost(model, removal.tools, stage);
  }
  return sum;
}

}  // namespace

UnitMoney::UnitMoney(const Model& model) : stages_(model.stage_count()) {
  const RelaxedGoods goods(model);
  for (int u = 0; u < model.unit_count(); ++u) {
    const Unit& unit = model.units()[u];
    for (int t = 0; t < stages_; ++t) {
      least_.push_back(unit.cost + goods.unit_cost(u, t));
      most_.push_back(most_of(model, unit, t));
    }
  }
}

}  // namespace fettlefund::budgets::search
