#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/bound/prices.hpp"

namespace fettlefund::budgets::search {

/// The best profit of a stage's patterns among those of at most some cost level.
struct FrontierPoint {
  std::int32_t level = 0;
  std::int32_t profit = 0;
  std::int32_t node = 0;
};

/// Sets of units as a tree: node 0 is the empty set, every other node is its parent and one unit more.
struct PatternTree {
  std::vector<std::int32_t> parent;  ///< lower than the node's own index
  std::vector<std::int32_t> unit;
  std::vector<std::int32_t> level;   ///< of the whole set's cost
  std::vector<std::int32_t> bother;  ///< grid worth lost by the removals that this unit opens first
  std::vector<std::int64_t> minutes;
  std::vector<std::int32_t> rest;  ///< of the whole set's cost above its level, at most
  std::int32_t size() const { return static_cast<std::int32_t>(parent.size()); }
  void clear();
  void add(std::int32_t p, std::int32_t u, std::int32_t l, std::int32_t b, std::int64_t m, std::int32_t r);
};

/// Which sets a sweep looks at.
enum class Sweep {
  whole,   ///< all
  choose,  ///< all, and remembers the most promising ones
  pool,    ///< only those that the last `choose` remembered: quicker, and no bound
};

/// All sets of units that fit into some stage's time and money, with removals and deliveries charged once.
class PatternList {
 public:
  /// `shift`: a cost of c is on level c >> shift. Complete if there are at most `limit` sets; else empty.
  PatternList(const Relaxed& relaxed, const Scale& scale, int shift, std::int32_t limit);

  bool complete() const { return complete_; }
  std::int32_t size() const { return all_.size(); }

  /// The frontier of `stage` (ascending level and profit, from the empty set on) up to `cap_level`.
  void frontier(int stage, const Prices& prices, std::int32_t cap_level, Sweep sweep,
                std::vector<FrontierPoint>& out);
  std::int64_t sweep_cost(int stage, Sweep sweep) const;

  std::vector<int> units(int stage, Sweep sweep, std::int32_t node) const;
  std::int64_t minutes(int stage, Sweep sweep, std::int32_t node) const {
    return tree(stage, sweep).minutes[node];
  }

 private:
  const PatternTree& tree(int stage, Sweep sweep) const {
    return sweep == Sweep::pool ? pools_[stage] : all_;
  }
  void price(const PatternTree& tree, int stage, const Prices& prices, std::int32_t cap_level);
  void choose_pool(int stage, const Prices& prices);
  std::int64_t gain_of(int unit, int stage, const Prices& prices) const;

  const Relaxed& relaxed_;
  bool complete_ = true;
  PatternTree all_;
  std::vector<PatternTree> pools_;
  std::vector<std::int32_t> reach_;   ///< [stage] how far below the frontier sets are remembered
  std::vector<std::int32_t> profit_;  ///< scratch by node
  std::vector<FrontierPoint> best_;   ///< scratch by level
  std::vector<char> kept_;
  std::vector<std::int32_t> new_index_;
};

}  // namespace fettlefund::budgets::search
