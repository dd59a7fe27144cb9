#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "tests/lib/staging/random_build_rules.hpp"

namespace fettlefund::test {

/// Pays for decisions: every offer is tried on every payday that will do, for all stages together.
class PlainShop {
 public:
  explicit PlainShop(const Rulebook& rules);

  /// What all of it costs; nothing where goods or a tool cannot be had or cash falls below what must stay.
  std::optional<std::int64_t> spend(const Decisions& decisions, const std::vector<Rulebook::Done>& done);

 private:
  struct Lot {
    std::int64_t amount = 0;
    std::optional<budgets::Date> use_by;
  };
  /// A thing to buy: packs of an article, and the offers that can bring it in time.
  struct Thing {
    int article = 0;
    std::int64_t packs = 1;
    std::vector<int> offers;
    int stage = 0;
    std::int64_t least = 0;  ///< what the goods cost at least
  };
  using Goods = std::map<std::pair<int, build::Id>, std::int64_t>;  ///< (payday, supplier) -> goods ordered

  int order_stage(const build::Offer& offer, int stage) const;
  Thing thing(int article, std::int64_t packs, int stage) const;
  std::int64_t delivery(const build::Id& supplier, std::int64_t goods) const;
  std::int64_t take(int article, std::int64_t amount, const Rulebook::Day& day);
  bool free(const build::Article& tool, const Rulebook::Day& day) const;
  bool always_free(const build::Article& tool) const;
  bool need_goods(const std::map<int, std::int64_t>& needs, int stage, std::vector<Thing>& things);
  bool need_tools(const Decisions& decisions, const std::vector<int>& tools, int stage,
                  std::vector<Thing>& things);
  bool need_any(const Decisions& decisions, const Rulebook::Done& done, int stage,
                std::vector<Thing>& things);
  std::optional<std::int64_t> least_hire(const std::vector<int>& there,
                                         const std::vector<std::vector<int>>& any) const;
  bool orderable(const build::Offer& offer, int payday) const;
  void buy(std::size_t at, std::int64_t goods);
  std::optional<std::int64_t> settle() const;

  const Rulebook& rules_;
  const build::Build& build_;
  std::vector<std::vector<Lot>> lots_;
  std::vector<Thing> things_;
  Goods goods_;
  Goods pressing_;  ///< how many lines of the order cannot wait
  std::optional<std::int64_t> best_;
  std::vector<std::int64_t> other_;  ///< hire and fees of each stage
};

}  // namespace fettlefund::test
