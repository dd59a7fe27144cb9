#pragma once
#include <cstdint>
#include <limits>
#include <vector>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

/// What the goods of one stage are sure to cost, their deliveries included.
///
/// Each order is paid for by the first stage that it has lines for. A line is ordered on the stage's own
/// payday; or earlier, in an order of its own stage, or in one that stages before have placed if since then
/// always so much money was left. What is ordered earlier is paid before the stage's payday: lines that can
/// only be ordered so cost no more together than was left then. An order may come free if there is the money
/// for one so large. Added up stage by stage this is never more than what a plan has paid up to and including
/// the stage's payday, before the allowance. Money is in minor units.
class SureOrders {
 public:
  explicit SureOrders(const Relaxed& relaxed);

  /// What a stage buys.
  struct Doing {
    int stage = 0;
    const std::vector<Line>& lines;  ///< articles
    const std::vector<int>& onces;   ///< of RelaxedGoods::onces those tools that are first needed here
    std::int64_t before = 0;         ///< spent in the stages before, at least
    const std::vector<std::int64_t>& reach;  ///< of the stages before, as `reach_after` has it
  };
  static constexpr std::int64_t none = -1;

  /// The least, of tools only what they cost more than the relaxed problem has for them; none: what can only
  /// be ordered early could not be paid for.
  std::int64_t least(const Doing& doing);

  /// The reach of a beginning: [supplier] the most money that stages to come can put into orders placed so
  /// far; 0: nothing.
  std::vector<std::int64_t> no_reach() const { return std::vector<std::int64_t>(terms_.size(), 0); }

  /// The same after the stage that `least` was asked about last. No plan with the same units could put more
  /// into them, and more is never worse. `spent`: up to the end of the stage. `left`: [unit] whether it may
  /// still be done; `had`: [tool of the relaxed problem] not 0: paid.
  void reach_after(const Doing& doing, std::int64_t spent, const std::vector<char>& left,
                   const std::vector<int>& had, std::vector<std::int64_t>& reach);

  std::int64_t cap(int stage) const { return caps_[stage]; }  ///< of what is spent up to it
  std::int64_t work() const { return work_; }                 ///< ways to buy looked at so far

 private:
  /// Of an order that the stage places.
  struct Terms {
    std::int64_t delivery = 0;
    bool full = false;  ///< goods at their prices: it cannot come free
  };
  /// Prices of a line that is ordered early for a stage or a later one; `most` < 0: it cannot be.
  struct Ahead {
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    std::int64_t most = -1;
  };
  void find_ahead();
  std::int64_t collect(const Doing& doing);
  bool is_to_come(const GoodsLine& line, const std::vector<char>& left, const std::vector<int>& had) const;
  void find_terms(std::int64_t money);
  bool is_open(int supplier) const { return terms_[supplier].delivery == 0 || placed_[supplier] != 0; }
  bool may_join(const GoodsLine::Buy& buy) const;
  void cut(const std::vector<char>& left, const std::vector<int>& had, int next,
           std::vector<std::int64_t>& reach);
  std::int64_t cost_with(std::uint64_t placed, std::int64_t left);
  std::int64_t cost_of_lines(std::int64_t left);
  std::int64_t cost_of(const GoodsLine::Stage& line, std::int64_t left, std::int64_t& early);

  const Relaxed& relaxed_;
  std::vector<GoodsLine> lines_;
  std::vector<Ahead> ahead_;                     ///< [(line * stages + stage) * suppliers + supplier]
  std::vector<std::vector<int>> lines_of_once_;  ///< [tool of the relaxed problem]
  std::vector<std::int64_t> caps_;               ///< [stage] minor units, before the allowance
  std::int64_t work_ = 0;

  // Of the stage asked about.
  std::vector<GoodsLine::Stage> bought_;
  std::vector<const GoodsLine::Stage*> here_;
  std::vector<int> suppliers_;  ///< whose orders charge something
  std::vector<Terms> terms_;    ///< [supplier]
  std::vector<char> placed_;    ///< [supplier]
  const std::vector<std::int64_t>* reach_ = nullptr;
  std::vector<std::int64_t> may_sell_;   ///< [supplier] what the lines that it sells cost at least
  std::vector<std::int64_t> taken_off_;  ///< [supplier] of lines bought there now, as its order may come free
  std::vector<Ahead> to_come_;           ///< [supplier] of all lines to come
};

}  // namespace fettlefund::budgets::search
