#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/search/local/relaxed_plan.hpp"
#include "budgets/search/local/split_mix_64.hpp"
#include "budgets/search/meter.hpp"

namespace fettlefund::budgets::search {

/// Betters plans of the relaxed problem by taking some units out - those that share a charge or a tool, or
/// are done about the same time - and putting them and others back in, each into the first stage with room,
/// together with what it requires. Units of no worth are done only while others require them, and as late as
/// these allow. Costs are the relaxed ones: what it finds has to be costed.
class Rebuilder {
 public:
  /// `rates`: [unit] how promising each is, higher first; what is 0 is only done for others or as a must.
  Rebuilder(const Relaxed& relaxed, std::vector<double> rates, std::uint64_t seed);

  /// Starts from the stages of units given (-1: left out), or from the most promising units on if that is
  /// better, and works for `steps`. The stages of the best found that fits; nothing if none was.
  std::optional<std::vector<int>> run(const std::vector<int>& start, std::int64_t steps, Meter& meter);

 private:
  bool insert(int unit, int first, int limit, bool blink);
  bool insert_in(int unit, int stage, bool blink);
  bool insert_required(int unit, int stage);
  void remove(int unit);
  void start_from(const std::vector<int>& stage_of);
  void fill_by_rate();

  void rebuild();
  void remove_related(int seed, int count);
  void remove_around(int stage, int count);
  void collect(int seed);
  void order_candidates();

  bool idle(int unit) const { return rates_[unit] <= 0 && !relaxed_.model->units()[unit].must; }
  std::int64_t score() const;
  bool fits() const;
  void note_best();
  int any(const std::vector<int>& list) { return list[random_.below(static_cast<int>(list.size()))]; }

  const Relaxed& relaxed_;
  std::vector<double> rates_;
  SplitMix64 random_;
  RelaxedPlan plan_;
  std::vector<int> wanted_;                   ///< units that are tried for their own sake
  std::vector<int> musts_;                    ///< units
  std::vector<std::vector<int>> dependents_;  ///< [unit] units that require it
  std::vector<std::vector<int>> bonds_;       ///< lists of two or more units that share something
  std::vector<std::vector<int>> bonds_of_;    ///< [unit] indices of such lists
  std::vector<int> candidates_;               ///< of the rebuilding at hand
  std::vector<double> keys_;                  ///< [unit] for sorting them
  std::vector<char> listed_;                  ///< [unit] whether it is among them
  std::int64_t work_ = 0;
  std::int64_t best_score_ = 0;
  std::optional<std::vector<int>> best_;
};

}  // namespace fettlefund::budgets::search
