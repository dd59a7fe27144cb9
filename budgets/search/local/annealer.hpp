#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/search/layers/search.hpp"
#include "budgets/search/local/soft_trial.hpp"
#include "budgets/search/local/split_mix_64.hpp"
#include "budgets/search/meter.hpp"

namespace fettlefund::budgets::search {

/// Finds good plans by annealing (Kirkpatrick, Gelatt and Vecchi, Science 1983) over arrangements that may
/// overstep cash, bench time and fit. What oversteps pays a price, which rises and falls so that about as
/// many of those taken keep a limit as pass it: the border of what is allowed is where the best plans
/// are, and the way from one to the next often leads through what is not. Finds plans only.
class Annealer {
 public:
  /// Anneals with the cash of `model`; plans may spend so much more, minor units (less if below 0), than it
  /// has.
  Annealer(const Model& model, Meter& meter, std::int64_t more = 0);

  /// Of a hundred changes so many are of how a stage buys and of how a tool is come by; the others move
  /// units.
  struct Shares {
    int styles = 0;
    int tools = 0;
  };

  /// Anneals once for about `steps` steps, from nothing, then puts in whatever still fits. The best plan
  /// met that does all musts. Equal `seed`: the same changes.
  std::optional<Found> run(std::int64_t steps, std::uint64_t seed, Shares shares);

 private:
  /// Of overstepping one limit.
  struct Price {
    double of_one = 0;  ///< worth for each minor unit, minute or misfit
    int kept = 0;       ///< arrangements taken that kept the limit, since the last change
    void adapt(int taken);
  };
  enum Limit { money, time, fit, limits };

  void start_prices();
  Arrangement nothing() const;
  double score(const Reckoning& reckoning, const Arrangement& arrangement) const;
  int musts_left(const Placing& placing) const;
  void put(Placing& placing, int unit, int stage) const;
  void leave_out(Placing& placing, int unit) const;
  bool allowed() const;
  int some_unit();
  int some_stage(int unit);
  void change();
  void change_style();
  void change_tool();
  void change_unit();
  void swap_units(int unit);
  void replace(int unit);
  void move_stage(bool exchange);
  bool reckon(double least);
  bool try_next(double allowed_loss);
  void take();
  void note_best();
  void anneal(std::int64_t steps);
  bool climb();
  bool climb_purchases();
  void finish(std::int64_t steps);
  void give_cash(bool all);
  bool improves();
  Found found() const;

  const Model& model_;
  Meter& meter_;
  const std::int64_t more_;    ///< cash for plans
  std::int64_t more_now_ = 0;  ///< of it not in the trial's caps
  SoftTrial trial_;
  SplitMix64 random_{1};
  std::vector<std::vector<int>> dependents_;  ///< [unit] units that have it in `before`
  std::vector<std::vector<int>> members_;     ///< [one-of group] units
  std::vector<int> possible_;                 ///< units that some stage allows
  std::vector<int> hirable_;                  ///< tools that may be hired or bought
  double mean_worth_ = 0;                     ///< of a unit at its first stage
  double must_worth_ = 0;                     ///< lost for each must left out
  std::array<Price, limits> prices_;
  int taken_ = 0;
  Shares shares_;
  Arrangement now_, next_;
  Reckoning now_result_;
  double now_score_ = 0;
  std::optional<Found> best_;
  Arrangement best_arrangement_;
};

}  // namespace fettlefund::budgets::search
