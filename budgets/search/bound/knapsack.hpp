#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/bound/prices.hpp"

namespace fettlefund::budgets::search {

/// Extends a completion table by one stage without listing sets: unit after unit, with the removals and
/// deliveries opened so far as state, and the money spent so far as axis. Bench time has to be priced.
/// Where too many charges would have to be remembered at once, some are shared: units pay the shares that
/// `Prices` say, and the charge itself is bought by whoever fills the table.
class StageKnapsack {
 public:
  StageKnapsack(const Relaxed& relaxed, const Scale& scale);

  /// table[s] = best profit of a set of units at `stage` that leads from spending s to s', plus after[s'],
  /// for levels 0 to `cap_level`. `after` has at least that many entries. A cost of c is on level c >> shift.
  void extend(int stage, const Prices& prices, int shift, std::int32_t cap_level,
              const std::vector<std::int32_t>& after, std::vector<std::int32_t>& table);

  /// The set that attains table[level] for the same arguments, and the level it leads to.
  std::vector<int> trace(int stage, const Prices& prices, int shift, std::int32_t cap_level,
                         const std::vector<std::int32_t>& after, std::int32_t level, std::int32_t& reached);

  /// Ascending.
  std::vector<int> shared_charges() const;
  /// Those of a unit that are not shared.
  const std::vector<int>& charges_of(int unit) const { return charges_of_[unit]; }

  std::int64_t state_count() const { return state_count_; }
  std::int64_t work() const { return work_; }  ///< of the last `extend`, in steps

 private:
  struct State {
    int skip = 0;  ///< state of the next step
    int take = 0;
    std::int64_t cost = 0;  ///< of charges opened first, if taken
    std::int64_t bother = 0;
    std::int64_t minutes = 0;
  };
  struct Step {
    int unit = 0;
    std::vector<State> states;
  };
  struct Cell {
    std::int32_t array = -1;  ///< index of the array behind `values`; -1: `after`
    const std::int32_t* values = nullptr;
    std::int32_t level = 0;  ///< of taking the unit
    bool open = false;       ///< the unit may be taken; else the values are those of skipping it
  };

  std::vector<int> order_units() const;
  bool build(const std::vector<int>& order, std::int64_t limit);
  void share(int charge);
  int widest(const std::vector<int>& order) const;
  void run(int stage, const Prices& prices, int shift, std::int32_t size, const std::int32_t* after,
           bool keep_all);
  void fill_step(int i, int stage, const Prices& prices, int shift, std::int32_t size);
  void free_unused(int i);
  std::int32_t fresh(std::int32_t size);

  const Relaxed& relaxed_;
  const Scale& scale_;
  std::vector<std::vector<int>> charges_of_;  ///< those not shared
  std::vector<char> shared_;                  ///< [charge]
  std::vector<Step> steps_;
  std::vector<std::vector<Cell>> cells_;  ///< of the last `extend`, one row more than steps
  std::vector<std::vector<std::int32_t>> arrays_;
  std::vector<std::int32_t> free_;  ///< arrays that no cell needs
  std::vector<std::int32_t> mark_;  ///< [array] scratch of free_unused
  std::int64_t state_count_ = 0;
  std::int64_t work_ = 0;
};

}  // namespace fettlefund::budgets::search
