#pragma once
#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/problem/plan.hpp"

/// Shopping stage by stage, as `cost` does it. A search keeps `Stores` as part of its state and calls
/// `Buyer::buy` for the next stage. `verify` shares nothing with this.
namespace fettlefund::budgets {

/// An order already placed, which later lines may join. At most one a (stage, supplier).
struct OpenOrder {
  int stage = 0;  ///< whose payday pays it
  int supplier = 0;
  Money goods;
  bool waits = false;  ///< placed early: a line that cannot wait any longer has yet to join it
  friend auto operator<=>(const OpenOrder&, const OpenOrder&) = default;
};

/// The order of `Stores::orders`: by stage, then supplier.
inline bool earlier(const OpenOrder& a, const OpenOrder& b) {
  return a.stage != b.stage ? a.stage < b.stage : a.supplier < b.supplier;
}

/// Some of an article in store.
struct HeldLot {
  int article = 0;
  int last_stage = 0;   ///< usable up to and including this stage's bench date; the number of stages: closed
  int first_stage = 0;  ///< and from this stage's on; 0 once that is reached
  Quantity amount = 0;  ///< > 0
  friend auto operator<=>(const HeldLot&, const HeldLot&) = default;
};

/// What shopping for a later stage depends on. Equal stores and equal demands give equal receipts.
struct Stores {
  std::vector<OpenOrder> orders;  ///< by stage, then supplier
  std::vector<HeldLot> lots;      ///< by article, last_stage, first_stage; at most one each
  friend auto operator<=>(const Stores&, const Stores&) = default;
};

/// What one stage needs.
struct Demand {
  std::vector<Need> needs;  ///< ascending by article, at most one each
  std::vector<int> tools;   ///< to be bought for this stage; ascending
};

/// Something bought: a line and the order it goes to.
struct Purchase {
  OrderLine line;
  int stage = 0;  ///< whose payday pays it
  int supplier = 0;
};

/// How a stage's shopping changes what one payday pays.
struct PaydayCharge {
  int stage = 0;
  Money goods;
  Money delivery;  ///< negative if an earlier order now reaches its free-from amount
};

/// What `Buyer::buy` did.
struct Receipt {
  std::vector<Purchase> lines;        ///< articles before tools, ascending
  std::vector<PaydayCharge> charges;  ///< ascending by stage, each at most once
  std::vector<OrderLine> missing;     ///< articles and tools that no offer can bring in time
};

/// A way to get an article or tool for one stage.
struct Way {
  int offer = 0;
  int stage = 0;  ///< whose payday pays it: the last that will do
  int supplier = 0;
  Money price;
  int first = 0;  ///< the first payday on which it can be ordered; at most `stage`
};

/// The least price of the ways; nothing if there are none.
std::optional<Money> least_price(const std::vector<Way>& ways);

constexpr std::array<Style, 4> all_styles{{{false, false}, {true, false}, {false, true}, {true, true}}};

/// One thing to buy with the ways to get it (at least one).
struct Wanted {
  const std::vector<Way>* ways = nullptr;
  std::int64_t packs = 1;
};

/// A line to buy, with the ways to get it (at least one); its offer and amount are open.
struct Line {
  OrderLine what;
  const std::vector<Way>* ways = nullptr;
};

/// Buys the goods of stages, in ascending order of stages, in the way that is cheapest for each
/// stage by itself, nothing ordered earlier than it must, or in a style. `basket_ways.hpp` has the other
/// ways. Not for use from two threads at once; make one for each.
class Buyer {
 public:
  explicit Buyer(const Problem& problem);

  Stores opening_stores() const;  ///< stock on hand, no orders

  /// Buys `demand` for `stage`: changes `stores` and fills `receipt` (its former content is lost). Where
  /// something is missing all else is bought. Lots past their day are dropped from `stores`.
  void buy(int stage, const Demand& demand, Stores& stores, Receipt& receipt, Style style = {}) const;

  /// The first half of it: what has to be bought, after what is in store. Takes from `stores` and puts the
  /// rests of packs into it. `lines` and `missing` are appended to.
  void list(int stage, const Demand& demand, Stores& stores, std::vector<Line>& lines,
            std::vector<OrderLine>& missing) const;

  /// Drops from `stores` what shopping for `stage` and later cannot depend on, so that states that are worth
  /// the same compare equal: lots past their day, orders that no offer can join any more, and of the goods of
  /// an order what is beyond its supplier's free-from amount.
  void forget(int stage, Stores& stores) const;

  /// All ways to get an article (tool) for `stage`, by offer; ways that never pay are left out.
  const std::vector<Way>& article_ways(int article, int stage) const { return article_ways_[article][stage]; }
  const std::vector<Way>& tool_ways(int tool, int stage) const { return tool_ways_[tool][stage]; }

  /// The last stage for which anything can be added to an order of that payday; -1: none.
  int last_join(int payday, int supplier) const { return last_join_[payday][supplier]; }
  /// The last stage for which something of the supplier has to be ordered on that payday; -1: none.
  int last_call(int payday, int supplier) const { return last_call_[payday][supplier]; }

  /// The earliest payday on which anything may be ordered for `stage` or a later one, at most `stage`.
  int first_payday(int stage) const { return first_payday_[stage]; }

 private:
  using WaysByStage = std::vector<std::vector<Way>>;
  WaysByStage find_ways(const std::vector<Offer>& offers) const;
  void note_joins(const WaysByStage& ways);
  int last_usable(std::optional<Date> use_by) const;
  int first_usable(std::optional<Date> from) const;
  Quantity take(int article, Quantity amount, int stage, Stores& stores) const;
  Quantity take_closed(HeldLot& closed, Quantity amount, int stage, Stores& stores) const;
  void keep_rest(int article, Quantity amount, int stage, Stores& stores) const;
  void drop_lots(int stage, Stores& stores) const;
  void place(const Purchase& purchase, Stores& stores, Receipt& receipt) const;

  const Problem& problem_;
  std::vector<WaysByStage> article_ways_;  ///< [article][stage]
  std::vector<WaysByStage> tool_ways_;
  std::vector<std::vector<int>> last_join_;  ///< [payday][supplier]
  std::vector<std::vector<int>> last_call_;
  std::vector<int> first_payday_;
  mutable std::vector<Line> lines_;  ///< scratch of `buy`
  mutable std::vector<Wanted> wanted_;
};

/// What the jobs (ascending) and the removals opened need together, and the tools bought for the stage.
Demand demand_of(const Problem& problem, const std::vector<int>& jobs, const std::vector<int>& opened,
                 const std::vector<int>& tools_bought);

}  // namespace fettlefund::budgets
