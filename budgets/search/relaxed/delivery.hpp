#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {

/// Deliveries as the relaxed problem sees them: a fee for each stage in which an order is certain, and in
/// return prices lowered where an order may come free. All amounts are lower limits in minor units.
///
/// A fee D that falls away from goods F on is at least D less the sum over the lines g of min(D g / F, D).
/// Where orders are expected to be larger than F that is worth nothing, and the fee is left out instead.
class RelaxedDelivery {
 public:
  explicit RelaxedDelivery(const Model& model);

  std::int64_t fee(int supplier) const { return suppliers_[supplier].fee; }  ///< each such stage
  /// Whether an order of this way for `stage` is one that pays the fee: other ways of the supplier may share
  /// their order with another stage's.
  bool bears(const Way& way, int stage) const {
    return suppliers_[way.supplier].payday[stage] == way.stage && fee(way.supplier) > 0;
  }
  /// The least that so many packs cost.
  std::int64_t price(const Way& way, std::int64_t packs) const;

  /// What later stages may save, of the costs they have in the relaxed problem, by joining this order.
  std::int64_t saving(const OpenOrder& order, int next_stage) const;

  /// Whether every order of a stage pays its full fee.
  bool plain() const { return plain_; }

 private:
  struct Terms {
    std::int64_t fee = 0;
    bool discounted = false;
    std::vector<int> payday;  ///< [stage] on which most ways of that stage order, or -1
  };
  void find_paydays();
  void find_reach();
  void find_terms(int supplier);
  bool small_orders(int supplier) const;

  const Model& model_;
  std::vector<Terms> suppliers_;
  std::vector<std::int64_t> reach_;  ///< most goods one order could hold
  std::vector<int> sharing_;         ///< most stages whose orders by `payday` may be one
  bool plain_ = true;
};

}  // namespace fettlefund::budgets::search
