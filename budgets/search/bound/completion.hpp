#pragma once
#include <cstdint>
#include <memory>
#include <vector>

#include "budgets/search/bound/knapsack.hpp"
#include "budgets/search/bound/patterns.hpp"

namespace fettlefund::budgets::search {

/// The completion table: for every stage and every spending so far, the best profit of a path through the
/// stages left. Sets of a stage come from a complete list where it is small enough (bench time exact), else
/// from a knapsack over units (bench time priced).
class Completion {
 public:
  Completion(const Relaxed& relaxed, const Scale& scale, std::int32_t list_limit);

  bool prices_minutes() const { return !list_.complete(); }
  std::int32_t pattern_count() const { return list_.size(); }
  /// Charges that are bought like tools, a stage at a time, units paying shares of them; ascending.
  std::vector<int> shared_charges() const;

  /// Replaces the caps (relaxed costs). Tables are worthless until the next `fill`.
  void set_caps(const std::vector<std::int64_t>& caps);

  /// Fills the tables of stages `from` and later; by Sweep::pool they give no bound.
  /// `fine`: with a finer money axis (the list always uses its own).
  void fill(const Prices& prices, int from, Sweep sweep, bool fine);

  /// Best profit from stage `stage` (up to and including the number of stages) with `spent` relaxed money
  /// spent; `beyond` if that breaks a cap.
  std::int64_t at(int stage, std::int64_t spent) const {
    const std::int64_t level = spent >> shift_;
    const auto& table = tables_[stage];
    if (level >= static_cast<std::int64_t>(table.size()) || table[level] <= never / 2) return beyond;
    return table[level];
  }
  std::int64_t level(std::int64_t cost) const { return cost >> shift_; }
  std::int64_t spent_from(std::int64_t level) const { return level << shift_; }  ///< the least on that level
  std::int64_t cap(int stage) const { return caps_[stage]; }
  const std::vector<std::int32_t>& table(int stage) const { return tables_[stage]; }
  static constexpr std::int64_t beyond = -(std::int64_t{1} << 60);

  /// The path that attains `at` for the last fill.
  RelaxedPath trace(const Prices& prices, int from, std::int64_t spent);

  std::int64_t fill_cost() const { return fill_cost_; }  ///< of the last fill, in steps

 private:
  void apply_extras(int stage, const Prices& prices);
  struct Extra;
  void price_money(int stage, const Prices& prices);
  void apply_extra(int stage, const Extra& what, std::int64_t profit, std::int64_t cost,
                   const Prices& prices);
  void extend_by_list(int stage, const Prices& prices);
  void extend_by_knapsack(int stage, const Prices& prices);
  int trace_list(int stage, std::int32_t& level, RelaxedPath& path) const;
  void trace_extras(int stage, std::int32_t& level, RelaxedPath& path) const;
  std::int64_t cost_of(int stage, const RelaxedPath& path) const;
  std::int64_t charged_minutes(const std::vector<int>& units) const;

  /// A tool, a shared charge or an order worth having in a stage, with the table before it was offered.
  struct Extra {
    int tool = -1;
    int charge = -1;
    int supplier = -1;
    std::int32_t level = 0;
    std::vector<std::int32_t> before;
  };

  const Relaxed& relaxed_;
  std::vector<std::int64_t> caps_;
  int shift_ = 0;  ///< of the tables as they are
  int list_shift_ = 0;
  int fine_shift_ = 0;
  int coarse_shift_ = 0;
  Sweep sweep_ = Sweep::whole;  ///< of the tables as they are
  PatternList list_;
  std::unique_ptr<StageKnapsack> knapsack_;
  std::vector<std::vector<std::int32_t>> tables_;        ///< [stage], one more than stages
  std::vector<std::vector<std::int32_t>> after_extras_;  ///< [stage]
  std::vector<std::vector<Extra>> extras_;
  std::vector<std::vector<FrontierPoint>> frontiers_;
  std::int64_t fill_cost_ = 0;
};

}  // namespace fettlefund::budgets::search
