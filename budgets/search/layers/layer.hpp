#pragma once
#include <cstdint>
#include <vector>

#include "budgets/costing/basket_ways.hpp"
#include "budgets/search/amounts.hpp"

namespace fettlefund::budgets::search {

/// A partial plan before some stage. Its words follow each other in the layer: first the key (units done,
/// tools bought, then what is in store), then orders that can still be joined, then the subtotals of paydays
/// still open. Where costs are only sure ones (see Costing): the key, then in the place of the orders the
/// reach of those placed so far (see SureOrders).
struct Row {
  std::int64_t value = 0;  ///< worth less bother
  std::int64_t spent = 0;  ///< with allowance, minor units
  std::int64_t minutes = 0;
  std::int64_t relaxed = 0;  ///< spending in the relaxed problem, its units
  std::int64_t bound = 0;    ///< grid
  std::uint32_t parent = 0;  ///< row of the layer before
  std::uint32_t next = 0;    ///< in the table's chain
  std::uint64_t words = 0;   ///< where its words begin
  std::uint32_t key_words = 0;
  std::uint32_t order_words = 0;   ///< two an order; or amounts
  std::uint32_t first_open = 0;    ///< first payday still open
  std::uint32_t open_paydays = 0;  ///< so many subtotals
  std::uint32_t hash = 0;          ///< of the key
};

/// The partial plans of one layer, none dominated by another with the same key.
class Layer {
 public:
  /// `ways` tells how open paydays and orders compare; it must outlive the layer. `allowance_bp`: as in the
  /// problem. Without `ways` no row has open paydays, and of the words in the place of orders more is better.
  explicit Layer(const BasketWays* ways = nullptr, std::int64_t allowance_bp = 0)
      : ways_(ways), allowance_bp_(allowance_bp) {}

  std::size_t size() const { return rows_.size(); }
  const Row& row(std::size_t i) const { return rows_[i]; }
  Row& row(std::size_t i) { return rows_[i]; }
  const std::uint64_t* words(const Row& row) const { return words_.data() + row.words; }
  std::size_t bytes() const { return rows_.size() * sizeof(Row) + words_.size() * 8 + table_.size() * 4; }

  /// Adds `row` with its words unless a row with the same key dominates it; drops rows it dominates.
  /// Returns with how many rows of the same key it was compared.
  int insert(Row row, const std::vector<std::uint64_t>& words);

  /// Keeps the `width` rows with the highest bounds, in order of bounds, and drops rows below `least`.
  /// Returns the highest bound among those dropped for want of room; `least` - 1 if there are none.
  std::int64_t trim(std::size_t width, std::int64_t least);

 private:
  bool dominates(const Row& a, const std::uint64_t* a_words, const Row& b,
                 const std::uint64_t* b_words) const;
  Standing standing(const Row& row, const std::uint64_t* words, const std::vector<OpenOrder>& orders) const;
  bool same_key(const Row& a, const Row& b, const std::uint64_t* b_words) const;
  void grow();

  const BasketWays* ways_;
  mutable std::vector<OpenOrder> a_orders_, b_orders_;  ///< scratch of `dominates`
  std::int64_t allowance_bp_;
  std::vector<Row> rows_;
  std::vector<std::uint64_t> words_;
  std::vector<std::uint32_t> table_;  ///< first row of a chain plus one; size a power of two
};

/// Orders as words of a row and back.
void encode_orders(const std::vector<OpenOrder>& orders, std::vector<std::uint64_t>& words);
void decode_orders(const std::uint64_t* words, std::uint32_t count, std::vector<OpenOrder>& orders);

/// What the row has paid on paydays before the first that is still open, with the allowance.
std::int64_t closed_spending(const Row& row, const std::uint64_t* words, std::int64_t allowance_bp);

}  // namespace fettlefund::budgets::search
