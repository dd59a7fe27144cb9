#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {

/// Something charged once in each stage in which at least one unit that has it is done: a removal, or a
/// supplier's delivery. Those that only one unit has are added to that unit instead.
struct Charge {
  std::int64_t cost = 0;
  std::int64_t minutes = 0;
  std::int64_t worth = 0;  ///< lost: bother
};

/// The additive problem under every bound. Worth and minutes are exact. Costs never exceed what any plan
/// pays, before the allowance, up to and including the payday of the stage: a plan that keeps all rules also
/// keeps `caps` here. Where `exact`, costs are what the plan pays. The README lists what is relaxed.
/// Costs and caps are in multiples of `unit_cost` minor units.
struct Relaxed {
  explicit Relaxed(const Model& model);

  const Model* model;
  int units = 0;
  int stages = 0;
  std::vector<std::int64_t> worth;       ///< [unit * stages + stage]
  std::vector<std::int64_t> cost;        ///< [unit * stages + stage]
  std::vector<std::int64_t> least_cost;  ///< [unit], over the stages allowed
  std::vector<std::int64_t> minutes;     ///< [unit]
  std::vector<Charge> charges;
  std::vector<std::vector<int>> charges_of;  ///< [unit]
  std::vector<std::int64_t> tool_cost;       ///< paid once, at the first stage that needs it
  std::vector<std::vector<int>> tools_of;    ///< [unit] tools with a tool_cost, also of removals
  std::vector<std::int64_t> caps;            ///< non-decreasing; cut to what all units together can cost
  std::int64_t unit_cost = 1;
  std::int64_t excess = 0;  ///< by how much the last cap was cut
  bool exact = true;

  int tools() const { return static_cast<int>(tool_cost.size()); }
  std::int64_t worth_at(int unit, int stage) const { return worth[unit * stages + stage]; }
  std::int64_t cost_at(int unit, int stage) const { return cost[unit * stages + stage]; }

  /// Caps as above when no more than `money` (minor units, with allowance) may be spent in all.
  std::vector<std::int64_t> caps_within(std::int64_t money) const;
};

/// floor(a * b / c) for 0 <= a, b and 0 < c, without overflow between.
std::int64_t scale_down(std::int64_t a, std::int64_t b, std::int64_t c);

/// The part of a spending with allowance that is spent before the allowance, rounded down.
std::int64_t before_allowance(std::int64_t money, std::int64_t allowance_bp);

/// Goods as the relaxed problem sees them. All amounts are lower limits in minor units, before the allowance.
class RelaxedGoods {
 public:
  explicit RelaxedGoods(const Model& model);

  std::int64_t unit_cost(int unit, int stage) const;  ///< of its jobs' articles, deliveries apart
  std::int64_t removal_cost(int removal) const;       ///< of its one-use articles
  std::int64_t tool_cost(int tool) const;             ///< once
  std::int64_t delivery(int supplier) const { return fee_[supplier]; }
  /// Suppliers from whom the unit (its removals included) has to order in each stage; ascending.
  std::vector<int> suppliers_of(const Unit& unit) const;
  bool exact() const { return exact_; }

 private:
  enum class Use { none, once, multiples, shared };
  void find_uses();
  void find_reach();
  void find_fees();
  void note_exactness();
  bool tool_is_exact(int tool) const;
  bool ways_are_plain(const std::vector<Way>& ways, int stage) const;
  std::int64_t price(const Way& way) const;
  std::int64_t least_price(int article) const;
  std::int64_t least_price(int article, int stage) const;
  std::int64_t pro_rata(const Need& need) const;
  std::int64_t need_cost(const Need& need, int stage) const;
  int only_supplier(const Need& need) const;

  const Model& model_;
  std::vector<Use> use_;
  std::vector<Quantity> on_hand_;
  std::vector<std::int64_t> reach_;  ///< most goods one order of the supplier could hold
  std::vector<std::int64_t> fee_;
  std::vector<char> discounted_;  ///< prices count less because the order may come free
  bool exact_ = true;
};

}  // namespace fettlefund::budgets::search
