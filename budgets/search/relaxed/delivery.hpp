#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {

/// Deliveries as the relaxed problem sees them: a fee once, by the first stage for which an order is certain
/// (all later stages may join that order), and in return prices lowered where an order may come free. All
/// amounts are lower limits in minor units.
///
/// A fee D that falls away from goods F on is at least D less the sum over the lines g of min(D g / F, D).
/// Where orders are expected to be larger than F that is worth nothing, and the fee is left out instead.
class RelaxedDelivery {
 public:
  explicit RelaxedDelivery(const Model& model);

  std::int64_t fee(int supplier) const { return suppliers_[supplier].fee; }
  /// Whether an order may come free of delivery if its goods cost no more than `money`.
  bool may_come_free(int supplier, std::int64_t money) const;
  /// Of an order that does not come free.
  std::int64_t full_fee(int supplier) const;

  /// The least that so many packs cost.
  std::int64_t price(const Way& way, std::int64_t packs) const;

  /// What may come back on this order, more than the goods added to it save in the relaxed problem.
  std::int64_t refund(const OpenOrder& order) const;

  /// Whether every order of a stage pays its full fee.
  bool plain() const { return plain_; }

 private:
  struct Terms {
    std::int64_t fee = 0;
    bool discounted = false;
  };
  void find_plainness();
  void find_reach();
  void find_terms(int supplier);
  bool small_orders(int supplier) const;

  const Model& model_;
  std::vector<Terms> suppliers_;
  std::vector<std::int64_t> reach_;  ///< most goods one order could hold
  bool plain_ = true;
};

}  // namespace fettlefund::budgets::search
