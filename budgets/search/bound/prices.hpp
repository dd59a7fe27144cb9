#pragma once
#include <cstdint>
#include <limits>
#include <vector>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

/// The grid on which bounds are computed: worth times 2^shift, rounded up where `shift` is negative. Chosen
/// so that every sum the completion table can form stays inside 31 bits.
class Scale {
 public:
  explicit Scale(const Relaxed& relaxed);
  Scale(int shift) : shift_(shift) {}
  int shift() const { return shift_; }
  std::int64_t up(std::int64_t worth) const;          ///< smallest grid value that is >= worth
  std::int64_t down(std::int64_t worth) const;        ///< largest grid value that is <= worth
  std::int64_t floor_worth(std::int64_t grid) const;  ///< largest worth that is <= the grid value
  double to_worth(std::int64_t grid) const;

 private:
  int shift_ = 0;
};

/// "Never" in a completion table; adding any sum to it stays inside 32 bits.
constexpr std::int32_t never = -(1 << 30);

/// The multipliers, all in one vector of doubles in units of worth. Whatever their values, rounding them to
/// the grid gives a valid bound; doubles only choose them.
class Multipliers {
 public:
  /// `shared`: charges that units pay for by shares, ascending (see StageKnapsack).
  Multipliers(const Relaxed& relaxed, const std::vector<int>& shared);

  int size() const { return size_; }
  bool free_sign(int index) const { return index < units_ && must_[index]; }
  int once(int unit) const { return unit; }
  int group(int g) const { return units_ + g; }
  int tool(int k) const { return units_ + groups_ + k; }
  int minutes(int stage) const { return units_ + groups_ + tools_ + stage; }
  /// The price of a minute is the multiplier divided by this (about one unit's time, for balanced slopes).
  double minute_unit() const { return minute_unit_; }
  /// Of what is truly paid up to a payday; the price of a unit of money is divided by `money_unit`.
  int money(int payday) const { return first_money_ + payday; }
  double money_unit() const { return money_unit_; }
  /// Of having an order of the join's supplier on that payday for its line.
  int join(int j, int payday) const { return first_join_ + j * stages_ + payday; }
  int arc(int a, int stage) const { return first_arc_ + a * stages_ + stage; }
  int need(int n, int stage) const { return first_need_ + n * stages_ + stage; }
  int share(int s, int stage) const { return first_share_ + s * stages_ + stage; }

  struct Arc {
    int before, after;
  };
  struct ToolNeed {
    int tool, unit;
  };
  struct Share {
    int charge, unit;
  };
  const std::vector<Arc>& arcs() const { return arcs_; }
  const std::vector<ToolNeed>& needs() const { return needs_; }
  const std::vector<Share>& shares() const { return shares_; }

  /// Every unit priced at `share` of the most it is worth. With 1 no sum is positive: always usable.
  std::vector<double> start(const Relaxed& relaxed, double share) const;

 private:
  int units_, groups_, tools_, stages_;
  int first_arc_ = 0, first_need_ = 0, first_share_ = 0, first_money_ = 0, first_join_ = 0, size_ = 0;
  double minute_unit_ = 1;
  double money_unit_ = 1;
  std::vector<char> must_;
  std::vector<Arc> arcs_;
  std::vector<ToolNeed> needs_;
  std::vector<Share> shares_;
};

constexpr int money_bits = 20;

/// What one choice of multipliers makes of the problem, on the grid. Exact integers.
/// Bound of a partial plan before stage t, with units D done, tools K had, relaxed spending s, value v:
///   v + constant + table_t(s) - sum of done(t, D) - sum of had(t, K).
struct Prices {
  std::vector<std::int64_t> profit;        ///< [stage * units + unit]; `barred` where not allowed
  std::vector<std::int64_t> tool_profit;   ///< [stage * tools + tool]
  std::vector<std::int64_t> done;          ///< [stage * units + unit], stages + 1 rows
  std::vector<std::int64_t> had;           ///< [stage * tools + tool], stages + 1 rows
  std::vector<std::int64_t> charge_worth;  ///< [charge] bother lost, rounded down
  std::vector<std::int64_t> minute_price;  ///< [stage]
  std::vector<std::int64_t> money_price;   ///< [payday] grid a unit of money, times 2^money_bits
  std::vector<std::int64_t> later_price;   ///< [stage] sum of money_price from it on: what spending takes
  std::vector<std::int64_t> order_profit;  ///< [payday * suppliers + supplier] what lines pay for the order
  /// How a line is bought best if its unit is done in a stage.
  struct Choice {
    int way = -1;  ///< of SureLine::ways
    int payday = 0;
  };
  std::vector<Choice> choices;  ///< [line * stages + stage]; empty without sure lines
  /// [stage * units + unit] what it pays of shared charges; empty where none are shared.
  std::vector<std::int64_t> shares;
  std::vector<std::int64_t>
      charge_profit;  ///< [stage * charges + charge] of shared ones: what units pay for it
  std::int64_t constant = 0;
  bool usable = true;  ///< sums could leave the table's range if false: no bound then

  /// What `money` (from 0 to a unit above the last cap) that a level of the axis leaves out takes in that
  /// stage, rounded down.
  std::int64_t worth_of(std::int64_t money, int stage) const {
    return (money * later_price[stage]) >> money_bits;
  }

  static constexpr std::int64_t barred = std::numeric_limits<std::int64_t>::min() / 4;
};

/// `price_minutes`: whether bench time is priced (else those multipliers are ignored). `open`: the first
/// payday of which orders and money are priced; those before it are behind.
Prices make_prices(const Relaxed& relaxed, const Multipliers& layout, const Scale& scale,
                   const std::vector<double>& values, bool price_minutes, int open);

/// A path through the relaxed problem: what is chosen in each stage; units may repeat.
struct RelaxedPath {
  std::vector<std::vector<int>> units;
  std::vector<std::vector<int>> tools;
  std::vector<std::vector<int>> charges;  ///< shared ones
  std::vector<std::vector<int>> orders;   ///< suppliers
  std::vector<std::int64_t> spent;        ///< [stage] up to and including it
  std::vector<std::int64_t> minutes;
};

/// Where a path starts: the stage decided next, and what is behind.
struct Root {
  int stage = 0;
  std::vector<char> done;  ///< [unit]
  std::vector<char> had;   ///< [tool]
  std::int64_t spent = 0;  ///< relaxed
  std::int64_t value = 0;  ///< worth so far
};

/// The slope of the bound in each multiplier at the path that attains it.
std::vector<double> slope(const Relaxed& relaxed, const Multipliers& layout, const Root& root,
                          const RelaxedPath& path, const Prices& prices, bool price_minutes);

}  // namespace fettlefund::budgets::search
