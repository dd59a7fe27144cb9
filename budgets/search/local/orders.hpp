#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/local/split_mix_64.hpp"
#include "budgets/search/meter.hpp"
#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

/// Improves plans of the relaxed problem by trying orders of units. Each unit is put into the first stage
/// from its own delay on that has the time and the money; units early in the order come first. Mates and
/// clashes are not looked at, and costs are the relaxed ones: what it finds has to be costed.
class OrderImprover {
 public:
  OrderImprover(const Relaxed& relaxed, std::uint64_t seed);

  /// Starts from the stages of units given (-1: left out) and works for `steps`. Returns the best found.
  std::vector<int> run(const std::vector<int>& start, std::int64_t steps, Meter& meter);

 private:
  struct Genes {
    std::vector<int> order;
    std::vector<int> delay;  ///< [unit] first stage tried; the number of stages: left out
  };
  std::int64_t decode(const Genes& genes);
  bool place(int unit, const Genes& genes, int depth);
  bool fits(int unit, int stage);
  void commit(int unit, int stage);
  void mutate(Genes& genes, bool delays);
  Genes greedy_genes() const;
  Genes genes_of(const std::vector<int>& stage_of) const;

  const Relaxed& relaxed_;
  SplitMix64 random_;
  std::vector<int> stage_of_;
  std::vector<char> tried_;
  std::vector<char> taken_;            ///< [group]
  std::vector<std::int64_t> minutes_;  ///< [stage]
  std::vector<std::int64_t> spent_;    ///< [stage] up to and including it
  std::vector<char> open_;             ///< [stage * charges + charge]
  std::vector<int> tool_stage_;        ///< [tool]
  std::int64_t value_ = 0;
  std::int64_t effort_ = 0;
};

}  // namespace fettlefund::budgets::search
