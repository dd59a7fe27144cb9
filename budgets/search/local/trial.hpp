#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/layers/sieve.hpp"
#include "budgets/search/rank.hpp"

namespace fettlefund::budgets::search {

/// Costs whole placings exactly, as `cost` does, and again quickly when only the later stages of the last
/// kept one change. Tools are bought or hired by a fixed rule: bought for the first stage that has to pay for
/// them if that is possible and no dearer than hiring them for every such stage.
class Trial {
 public:
  explicit Trial(const Model& model);

  /// Whether `placing` keeps every rule but musts; then `rank()` and `bought()` tell of it, and `keep` makes
  /// it the one that later calls are compared with.
  bool keeps_rules(const Placing& placing);
  void keep();

  const Rank& rank() const { return rank_; }
  const std::vector<int>& bought() const { return bought_; }  ///< per tool: a stage, or -1
  std::int64_t work() const { return work_; }                 ///< stages shopped for so far

 private:
  /// What later stages depend on.
  struct Moment {
    Stores stores;
    std::vector<std::int64_t> bare;  ///< [payday] spending without the allowance
    std::int64_t value = 0;
    std::int64_t minutes = 0;
    Bits done;
    Bits renewed;                       ///< renewals earned
    Bits here;                          ///< free carriers on the machine
    std::vector<PaydayCharge> charges;  ///< of this stage's shopping
  };

  bool order_holds(const Placing& placing) const;
  void gather(const Placing& placing);
  void choose_tools();
  int first_tool_change() const;
  bool simulate(int stage);
  bool pay(int stage, Moment& now);
  bool shop(int stage, Moment& now);
  bool shops_as_kept(int stage, const Stores& before) const;
  void collect_needs(int stage);
  void add_needs(const std::vector<Need>& needs);
  bool within_caps(int last_final, const Moment& now) const;

  const Model& model_;
  std::vector<Bits> opened_by_;  ///< [unit] removals
  std::vector<Bits> tools_of_;   ///< [unit] tools, those of its removals included

  // Of the placing on trial; `kept_*` of the kept one.
  std::vector<std::vector<int>> at_, kept_at_;  ///< [stage] units, ascending
  std::vector<Bits> opened_, used_;             ///< [stage] removals, tools
  std::vector<int> bought_, kept_bought_;
  std::vector<Bits> paid_, kept_paid_;          ///< [stage] tools bought or hired then
  std::vector<Moment> moments_, kept_moments_;  ///< after each stage
  int first_changed_ = 0;
  Rank rank_;
  std::int64_t work_ = 0;

  // Scratch.
  Demand demand_;
  Receipt receipt_;
  std::vector<Quantity> amounts_;
};

}  // namespace fettlefund::budgets::search
