#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

/// A plan of the relaxed problem that is changed one unit at a time, and back again. Putting a unit in or
/// taking it out costs about as many steps as it has charges and tools, and the stages there are.
/// Mates and clashes are not looked at.
class RelaxedPlan {
 public:
  explicit RelaxedPlan(const Relaxed& relaxed);

  int stage_of(int unit) const { return stage_of_[unit]; }  ///< -1: left out
  bool has(int unit) const { return stage_of_[unit] >= 0; }
  const std::vector<int>& stages() const { return stage_of_; }
  std::int64_t value() const { return value_; }
  int users(int unit) const { return users_[unit]; }  ///< units done that require it directly

  /// Whether the unit, which is left out, may be done in the stage and has room there: its one-of groups are
  /// free, and there is the time, and the money on every payday from the stage on. What it requires is not
  /// looked at.
  bool fits(int unit, int stage);
  bool groups_are_free(int unit) const;

  void put(int unit, int stage);
  void take(int unit);

  /// Changes since the last `keep`, oldest first.
  struct Change {
    int unit;
    int from;  ///< -1: it was put in
    int to;    ///< -1: it was taken out
  };
  const std::vector<Change>& changes() const { return changes_; }
  void undo_to(std::size_t count);  ///< undoes all but the first `count` changes
  void keep() { changes_.clear(); }

  std::int64_t work() const { return work_; }  ///< steps so far

 private:
  void add(int unit, int stage);
  void remove(int unit);
  void pay(std::int64_t cost, int from, int to);
  void find_room();
  int first_use(int tool, int from) const;
  void count_change(int unit);

  const Relaxed& relaxed_;
  std::vector<int> stage_of_;
  std::vector<int> users_;
  std::vector<int> group_units_;       ///< [group] units done
  std::vector<int> charge_units_;      ///< [stage * charges + charge] units done
  std::vector<int> tool_units_;        ///< [tool * stages + stage] units done
  std::vector<int> tool_stage_;        ///< [tool] first stage that uses it; the number of stages: none
  std::vector<std::int64_t> minutes_;  ///< [stage]
  std::vector<std::int64_t> spent_;    ///< [stage] up to and including it
  std::vector<std::int64_t> room_;     ///< [stage] money that can be spent there more
  std::vector<Change> changes_;
  std::int64_t value_ = 0;
  std::int64_t work_ = 0;
};

}  // namespace fettlefund::budgets::search
