#include <algorithm>
#include <limits>
#include <map>

#include "budgets/search/amounts.hpp"
#include "budgets/search/model.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

/// What a unit takes together with all that it requires, at the least.
class Means {
 public:
  Means(const Model& model, int unit) : model_(model) {
    std::vector<int> units{unit};
    std::vector<char> seen(model.unit_count(), 0);
    while (!units.empty()) {
      const int u = units.back();
      units.pop_back();
      if (seen[u] != 0) continue;
      seen[u] = 1;
      const auto& before = model.units()[u].before;
      units.insert(units.end(), before.begin(), before.end());
      add(model.units()[u]);
    }
    sort_unique(removals_);
    for (const int r : removals_) add(model.data().removals[r]);
    sort_unique(tools_);
  }

  /// Whether it can be done by the end of that stage, for all that money and bench time say.
  bool suffice_by(int stage) const {
    std::int64_t minutes = 0;
    for (int t = 0; t <= stage; ++t) minutes += model_.data().stages[t].minutes;
    if (minutes_ > minutes) return false;
    return money_by(stage) <= before_allowance(model_.caps()[stage], model_.data().allowance_bp);
  }

 private:
  void add(const Unit& unit) {
    minutes_ += unit.minutes;
    money_ += unit.cost;
    for (const Need& need : unit.needs) amounts_[need.article] += need.amount;
    removals_.insert(removals_.end(), unit.removals.begin(), unit.removals.end());
    tools_.insert(tools_.end(), unit.tools.begin(), unit.tools.end());
  }

  void add(const Removal& removal) {
    minutes_ += removal.minutes;
    money_ += removal.cost.minor();
    for (const Need& need : removal.one_use) amounts_[need.article] += need.amount;
    tools_.insert(tools_.end(), removal.tools.begin(), removal.tools.end());
  }

  std::int64_t money_by(int stage) const {
    std::int64_t sum = money_;
    for (const auto& [article, amount] : amounts_)
      sum += packs_lacking(article, amount) * least(model_.buyer().article_ways(article, stage), none);
    for (const int k : tools_) sum += tool_cost(k, stage);
    return sum;
  }

  std::int64_t packs_lacking(int article, Quantity amount) const {
    const Article& from = model_.data().articles[article];
    amount -= all_stock(from);
    return amount > 0 ? (amount + from.pack - 1) / from.pack : 0;
  }

  /// Among these is whatever could be ordered for an earlier stage.
  static std::int64_t least(const std::vector<Way>& ways, std::int64_t least) {
    for (const Way& way : ways) least = std::min(least, way.price.minor());
    return least == none ? 0 : least;  // what cannot be had at all is for others to say
  }

  std::int64_t tool_cost(int tool, int stage) const {
    const Tool& from = model_.data().tools[tool];
    const auto end = from.free.begin() + (from.free.empty() ? 0 : stage + 1);
    if (std::any_of(from.free.begin(), end, [](char free) { return free != 0; })) return 0;
    return least(model_.buyer().tool_ways(tool, stage), from.hire ? from.hire->minor() : none);
  }

  static constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max();

  const Model& model_;
  std::int64_t minutes_ = 0;
  std::int64_t money_ = 0;  ///< beside goods and tools
  std::map<int, Quantity> amounts_;
  std::vector<int> removals_, tools_;
};

}  // namespace

Quantity all_stock(const Article& article) {
  Quantity stock = 0;
  for (const Lot& lot : article.on_hand) stock += lot.amount;
  return stock;
}

/// No unit before those it requires; what a must requires is a must of the same date.
void Model::narrow_windows() {
  for (Unit& unit : units_) {
    for (int b : unit.before) {
      unit.first = std::max(unit.first, units_[b].first);
      if (units_[b].last < units_[b].first) unit.last = -1;
    }
  }
  for (auto unit = units_.rbegin(); unit != units_.rend(); ++unit) {
    if (!unit->must) continue;
    for (int b : unit->before) {
      units_[b].must = true;
      units_[b].last = std::min(units_[b].last, unit->last);
    }
  }
}

/// From the first stage on that a unit is allowed in, what requires it may be.
void Model::find_allowed() {
  const int stages = stage_count();
  allowed_.assign(units_.size() * stages, 0);
  for (int u = 0; u < unit_count(); ++u) {
    Unit& unit = units_[u];
    for (const int b : unit.before) {
      unit.first = std::max(units_[b].first, unit.first);
      if (units_[b].last < 0) unit.last = -1;
    }
    const Means means(*this, u);
    std::int64_t minutes = unit.minutes;
    for (int r : unit.removals) minutes += data().removals[r].minutes;
    int first = -1, last = -1;
    for (int t = std::max(unit.first, 0); t <= unit.last; ++t) {
      const bool ok = minutes <= data().stages[t].minutes && keeps_days({u}, t) && can_be_had(unit, t) &&
                      means.suffice_by(t);
      allowed_[u * stages + t] = ok;
      if (!ok) continue;
      if (first < 0) first = t;
      last = t;
    }
    if (first >= 0) unit.first = first;
    unit.last = last;
    hopeless_ |= unit.must && last < 0;
  }
}

/// False only where tools or goods of the unit or its removals cannot be there at that stage whatever was
/// done before.
bool Model::can_be_had(const Unit& unit, int stage) const {
  const auto offered = [stage](auto&& ways_at) {
    for (int early = 0; early <= stage; ++early) {
      if (!ways_at(early).empty()) return true;
    }
    return false;
  };
  const auto goods = [&](const Need& need) {
    if (all_stock(data().articles[need.article]) >= need.amount) return true;
    return offered([&](int t) -> const auto& { return buyer_.article_ways(need.article, t); });
  };
  const auto usable = [&](int k) {
    const Tool& tool = data().tools[k];
    if (tool.hire || (!tool.free.empty() && tool.free[stage])) return true;
    return offered([&](int t) -> const auto& { return buyer_.tool_ways(k, t); });
  };
  const auto all = [&](const std::vector<Need>& needs, const std::vector<int>& tools) {
    return std::all_of(needs.begin(), needs.end(), goods) && std::all_of(tools.begin(), tools.end(), usable);
  };
  return all(unit.needs, unit.tools) && std::all_of(unit.removals.begin(), unit.removals.end(), [&](int r) {
           return all(data().removals[r].one_use, data().removals[r].tools);
         });
}

}  // namespace fettlefund::budgets::search
