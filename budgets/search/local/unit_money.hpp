#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {

/// About what each unit costs in each stage, judged without shopping and without regard to others. Minor
/// units, before the allowance. No limits: to do a unit may save others' deliveries, say.
class UnitMoney {
 public:
  explicit UnitMoney(const Model& model);

  /// What doing it adds at the least: its own cost and its part of packs in the cheapest way.
  std::int64_t least(int unit, int stage) const { return least_[place(unit, stage)]; }
  /// What leaving it out saves at the most: its own cost, whole packs in the dearest way with a delivery
  /// each, removals, and its tools.
  std::int64_t most(int unit, int stage) const { return most_[place(unit, stage)]; }

 private:
  std::size_t place(int unit, int stage) const { return static_cast<std::size_t>(unit) * stages_ + stage; }

  int stages_ = 0;
  std::vector<std::int64_t> least_, most_;
};

}  // namespace fettlefund::budgets::search
