#pragma once
#include <cstdint>
#include <vector>

#include "budgets/costing/basket.hpp"

/// All ways of buying that can pay (see `cost` in plan.hpp), stage by stage.
namespace fettlefund::budgets {

/// How one line was bought. Ordered: what decides among equals.
struct Pick {
  int offer = 0;
  int before_last = 0;  ///< paydays earlier than the last that would do
  friend auto operator<=>(const Pick&, const Pick&) = default;
};

/// Where some way of buying stands.
struct Tally {
  std::vector<OpenOrder> orders;   ///< those that charge delivery and may still be joined; as in Stores
  std::vector<std::int64_t> paid;  ///< [payday] what is paid for on it, before the allowance, minor units
  std::int64_t closed = 0;         ///< paid before that, with the allowance: it will not change
  std::vector<Pick> picks;         ///< of all lines so far
};

/// One state of buying as `outdoes` compares it: paydays from `first` on are open.
struct Standing {
  const std::vector<OpenOrder>& orders;
  const std::int64_t* paid = nullptr;  ///< of the first open payday
  int first = 0;
  int paydays = 0;  ///< so many are open now
  std::int64_t closed = 0;
};

/// How `a` compares with `b` when both buy the same from now on.
enum class Match {
  none,   ///< cannot be told
  equal,  ///< pays the same on every payday
  later,  ///< pays as much in all, and no more up to any payday
  level,  ///< can be made to pay no more up to any payday
  less    ///< pays less in all, and no more up to any payday
};

/// The most that may be spent up to and including each payday, minor units: opening cash and income less the
/// floor, and no more than on any later payday. May be negative.
std::vector<std::int64_t> spending_caps(const ProblemData& data);

/// Tallies of stages, extended line by line. Not for use from two threads at once. Of two of which one has
/// paid no more up to any payday and can buy as well later on, only that one is kept.
class BasketWays {
 public:
  BasketWays(const Problem& problem, const Buyer& buyer) : problem_(problem), buyer_(buyer) {}

  struct Limits {
    /// [payday] the most that may be spent up to and including it, with the allowance; null: no limits.
    const std::vector<std::int64_t>* caps = nullptr;
    std::int64_t most_money = 0;  ///< of all paydays; counts with `caps` only
    std::size_t width = 1;        ///< tallies kept
    /// [payday] what is sure to be paid up to and including it besides, before the allowance; null: nothing.
    const std::vector<std::int64_t>* reserved = nullptr;
    int first = 0;  ///< payday that is open: what was paid before is `closed`
    /// Those that the width leaves out become one that can buy and pay as well as any of them: perhaps none
    /// can.
    bool join = false;
  };

  /// Buys `line` for `stage` in every way in each of `tallies`; `rest`: the lines of that stage yet to come.
  /// False if there were more tallies than the width: then the cheapest are kept. Never with `join`.
  bool extend(int stage, const Line* line, const Line* rest_end, const Limits& limits,
              std::vector<Tally>& tallies);

  /// After the last line of the stage before `next`: drops orders that nobody can join, and tallies with one
  /// that waits in vain.
  void forget(int next, std::vector<Tally>& tallies) const;

  /// Drops what another outdoes, and all that break a cap for good.
  bool thin(const Limits& limits, std::vector<Tally>& tallies);

  /// One that from now on can buy whatever any of these can, and has paid no more up to any payday: of each
  /// payday what is least, and all their orders, those that differ free of delivery.
  Tally joined(const Tally* tally, const Tally* end) const;

  Match match(const Standing& a, const Standing& b) const;
  /// Whether `a` has paid more than `b` up to some payday, whatever its orders are worth: then `match` is
  /// none.
  bool ahead_somewhere(const Standing& a, const Standing& b) const;

  std::int64_t work() const { return work_; }  ///< comparisons and placings so far

 private:
  void put(const Tally& from, const Line& line, const Way& way, int payday, std::vector<Tally>& to);
  bool may_wait(int payday, int supplier, int stage, const Line* from, const Line* to) const;
  void branch(const Tally& from, int stage, const Line* line, const Line* rest_end, std::vector<Tally>& to);
  void join_orders(const Tally* tally, const Tally* end, std::vector<OpenOrder>& orders) const;
  void join_beyond(std::size_t width, std::vector<Tally>& tallies) const;
  bool affordable(const Tally& tally, const Limits& limits) const;
  bool outdoes(const Tally& a, const Tally& b) const;
  static void sort_by_money(std::vector<Tally>& tallies);
  void add_up(const std::vector<Tally>& tallies);
  bool is_ahead(std::size_t i, std::size_t j, std::size_t row) const;
  void drop_outdone(std::size_t most, std::vector<Tally>& tallies);
  std::int64_t regret(const OpenOrder& order, const OpenOrder* other, bool& same) const;
  bool regrets(const Standing& a, const Standing& b, bool& same) const;
  Standing standing(const Tally& tally) const;

  const Problem& problem_;
  const Buyer& buyer_;
  std::int64_t work_ = 0;
  std::vector<std::int64_t> sums_;          ///< scratch of `drop_outdone`
  mutable std::vector<std::int64_t> more_;  ///< scratch of `match`
};

}  // namespace fettlefund::budgets
