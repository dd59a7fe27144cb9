#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include "budgets/search/amounts.hpp"
#include "budgets/search/relaxed/delivery.hpp"
#include "budgets/search/relaxed/ordering.hpp"

namespace fettlefund::budgets::search {

/// Something charged once in each stage in which at least one unit that has it is done: a removal, or hire.
/// Those that only one unit has are added to that unit instead.
struct Charge {
  std::int64_t cost = 0;
  std::int64_t minutes = 0;
  std::int64_t worth = 0;  ///< lost: bother
};

class RelaxedGoods;

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
  std::vector<std::int64_t> tool_cost;       ///< paid once, at the first stage that needs it: tools, packs
  std::vector<std::vector<int>> tools_of;    ///< [unit] those it needs, also through removals
  std::vector<SureFee> fees;                 ///< beside `ordering`: the same deliveries, seen another way
  std::vector<std::vector<int>> fees_of;     ///< [unit]
  Ordering ordering;
  std::vector<std::int64_t> caps;  ///< non-decreasing; cut to what all units together can cost
  std::int64_t unit_cost = 1;
  std::int64_t excess = 0;  ///< by how much the last cap was cut
  bool exact = true;
  std::shared_ptr<const RelaxedGoods> goods;

  int tools() const { return static_cast<int>(tool_cost.size()); }
  std::int64_t worth_at(int unit, int stage) const { return worth[unit * stages + stage]; }
  std::int64_t cost_at(int unit, int stage) const { return cost[unit * stages + stage]; }

  /// Caps as above when no more than `money` (minor units, with allowance) may be spent in all.
  std::vector<std::int64_t> caps_within(std::int64_t money) const;
};

/// What a plan of the relaxed problem is scored lower for each must it leaves out: more than all worth can
/// make up for (see Limits), with room for thousands of them.
constexpr std::int64_t missing_must = std::int64_t{1} << 48;

/// Goods as the relaxed problem sees them. All amounts are lower limits in minor units, before the allowance.
class RelaxedGoods {
 public:
  explicit RelaxedGoods(const Model& model);

  /// Something paid for once, by the first stage that does a unit having it.
  struct Once {
    std::int64_t cost = 0;
    std::vector<int> units;  ///< ascending
  };
  /// Something paid for in each stage that does a unit having it.
  using Fee = Once;
  /// A part of a supplier's delivery with the units sure of it.
  struct Delivery {
    SureFee fee;
    std::vector<int> units;
  };

  std::int64_t unit_cost(int unit, int stage) const;  ///< of its jobs' articles, as far as no Once pays them
  std::int64_t removal_cost(int removal) const;       ///< the same of its one-use articles
  std::vector<Once> onces() const;                    ///< tools, and packs that last for all who need them
  std::vector<Fee> fees() const;                      ///< hire; with a single stage deliveries too
  /// With more than one stage.
  std::vector<Delivery> deliveries() const;
  Ordering ordering() const;
  /// Of units what they are sure to bring, of tools those that have to be bought (`once`: index of `onces`,
  /// where tools come first), and articles of which a stage may buy other amounts.
  std::vector<GoodsLine> lines() const;
  GoodsLine::Buy buy(const Way& way, int stage, std::int64_t packs) const;  ///< so many packs in that way
  const RelaxedDelivery& delivery() const { return delivery_; }
  /// Articles of which something may be left for stages to come, ascending.
  std::vector<int> kept() const;
  /// Units that need the article, through removals too; ascending.
  const std::vector<int>& needed_by(int article) const { return needed_by_[article]; }
  std::int64_t hire(int tool) const { return tools_[tool].hire; }  ///< in each stage that uses it, at least
  int tool_onces() const;                                          ///< so many of `onces` are tools
  bool exact() const { return exact_; }

  /// The most that stages from `next` on can save, of what they cost in the relaxed problem, by what is in
  /// store, by orders that can be joined, and by tools owned.
  /// `done`: units done; `left`: [unit] whether it may still be done.
  std::int64_t saving(const Stores& stores, const std::uint64_t* owned, const std::uint64_t* done,
                      const std::vector<char>& left, int next) const;

 private:
  /// none: not needed. once: by one unit. multiples: always whole packs, no stock. pack: all needs together
  /// are hardly more than a pack. shared: any other.
  enum class Use { none, once, multiples, pack, shared };
  /// A tool costs at least `once`, and in each stage that uses it `hire`.
  struct ToolCost {
    std::int64_t once = 0;
    std::int64_t hire = 0;
    std::vector<int> units;
  };
  void find_uses();
  void find_tools();
  void find_deliveries();
  void note_exactness();
  ToolCost split_hire(std::int64_t hire, std::int64_t price, int uses) const;
  bool tool_is_exact(int tool) const;
  bool ways_are_plain(const std::vector<Way>& ways, int stage) const;
  std::int64_t least_price(int article, int stage, std::int64_t packs) const;
  std::int64_t pack_price(int article) const;
  std::int64_t pro_rata(const Need& need) const;
  std::int64_t packs_lacking(const Need& need, int stage) const;
  std::int64_t need_cost(const Need& need, int stage) const;
  bool is_bought(const Need& need) const;
  SureLine sure_line(int unit, const Need& need) const;
  bool is_bought_piecemeal(int article) const;
  GoodsLine line_of_unit(int unit, const Need& need) const;
  GoodsLine line_of_one(std::int64_t cost,
                        const std::function<const std::vector<Way>&(int stage)>& ways) const;
  std::int64_t trigger(const Need& need, int supplier, int stage) const;
  std::int64_t trigger(int unit, int supplier) const;

  const Model& model_;
  RelaxedDelivery delivery_;
  std::vector<Use> use_;
  std::vector<Quantity> on_hand_;
  std::vector<std::vector<int>> needed_by_;  ///< [article] units, through removals too
  std::vector<ToolCost> tools_;
  std::vector<std::vector<Once>> delivered_;  ///< [supplier]
  bool exact_ = true;
};

}  // namespace fettlefund::budgets::search
