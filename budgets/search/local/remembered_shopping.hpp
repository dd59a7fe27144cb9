#pragma once
#include <cstdint>
#include <unordered_map>
#include <utility>
#include <vector>

#include "budgets/search/model.hpp"

namespace fettlefund::budgets::search {

/// What a stage's work asks of the shops. Equal units and tools have equal needs.
struct Errand {
  Bits units;     ///< done in the stage
  Bits opened;    ///< removals
  Bits bought;    ///< tools to buy for it
  Bits articles;  ///< that units and removals need
  Style style;    ///< in which it buys
};

/// Shops for one stage as `Buyer` does, for the stage by itself, and remembers
/// what that came to: by the stage, its errand, and only that part of the stores which the errand can tell
/// apart.
class RememberedShopping {
 public:
  explicit RememberedShopping(const Model& model);

  struct Bought {
    bool missing = false;                            ///< something cannot be had in time
    std::vector<std::pair<int, std::int64_t>> paid;  ///< payday and minor units, before the allowance
    Stores stores;                                   ///< what became of the part of the stores that counted
  };

  /// Changes `stores` to what the next stage finds. The result holds until the next call.
  const Bought& buy(int stage, const Errand& errand, Stores& stores);

  std::int64_t work() const { return work_; }  ///< steps so far, about

 private:
  struct Hash {
    std::size_t operator()(const std::vector<std::uint64_t>& key) const;
  };

  bool counts(int stage, const Errand& errand, const OpenOrder& order) const;
  void split(int stage, const Errand& errand, const Stores& stores);
  void make_key(int stage, const Errand& errand);
  Bought shop(int stage, const Errand& errand);
  void fill_demand(const Errand& errand);
  void add_needs(const std::vector<Need>& needs);
  void merge(int stage, const Stores& changed, Stores& into) const;

  /// Articles and tools that may join an order at some stage.
  struct Joiners {
    Bits articles, tools;
  };

  const Model& model_;
  std::size_t groups_;                  ///< paydays times suppliers
  std::vector<Joiners> joiners_;        ///< [stage][payday][supplier] on the last payday that will do
  std::vector<Joiners> early_joiners_;  ///< the same, on any payday that will do
  std::unordered_map<std::vector<std::uint64_t>, Bought, Hash> known_;
  std::int64_t work_ = 0;

  // Scratch.
  Stores counting_, idle_;  ///< parts of the stores
  std::vector<std::uint64_t> key_;
  Demand demand_;
  Receipt receipt_;
  std::vector<Quantity> amounts_;
};

}  // namespace fettlefund::budgets::search
