#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/bound/completion.hpp"
#include "budgets/search/meter.hpp"

namespace fettlefund::budgets::search {

/// How hard `Bounder::improve` works.
struct Tuning {
  int cycles = 60;      ///< at most
  int cycle = 12;       ///< iterations between full evaluations
  double theta = 1.0;   ///< first step length
  double decay = 0.7;   ///< of the step length when a cycle brought nothing
  double least = 0.01;  ///< step length at which to end
  bool fine = false;    ///< with the finer money axis where the table is made by a knapsack
};

/// Bounds of partial plans, and the choice of multipliers that make them low.
class Bounder {
 public:
  Bounder(const Relaxed& relaxed, std::int32_t list_limit);

  const Scale& scale() const { return scale_; }
  const Completion& completion() const { return completion_; }
  const Prices& prices() const { return prices_; }
  void set_caps(const std::vector<std::int64_t>& caps) { completion_.set_caps(caps); }
  /// Multipliers of a similar problem with those cut to zero that may not be negative here.
  std::vector<double> make_fit(std::vector<double> values) const;
  std::vector<double> start() const { return layout_.start(relaxed_, 0.6); }
  /// The same near the best of the linear relaxation, sought for at most `steps`; `hope` as in `improve`.
  std::vector<double> linear_start(double hope, std::int64_t steps, Meter& meter) const;

  /// Makes `values` the multipliers in force for stages `from` and later, with fine tables. For partial plans
  /// before stage `open` (`from` or later) and later ones: paydays before it are not priced.
  /// If they are too wild to give bounds, safe ones take their place.
  void load(std::vector<double>& values, int from, int open, Meter& meter);

  /// Lowers the bound of `root` by a subgradient method; `values` become the best multipliers found. Ends
  /// early once the bound is below `goal` (grid), with the meter, or when `allowance` steps are used.
  /// `hope`: a worth the bound can hardly go below (an incumbent's). Returns the best bound, on the grid.
  std::int64_t improve(const Root& root, std::vector<double>& values, const Tuning& tuning, std::int64_t goal,
                       double hope, std::int64_t allowance, Meter& meter);

  /// Bound of a partial plan under the multipliers in force (grid); `root.stage` as `open` when
  /// loaded.
  std::int64_t bound(const Root& root) const;

 private:
  struct Step;
  std::int64_t evaluate(const Root& root, const std::vector<double>& values, Sweep sweep, bool fine,
                        Meter& meter);
  void move(const Root& root, Step& step, std::int64_t bound, double target);

  const Relaxed& relaxed_;
  Scale scale_;
  Completion completion_;
  Multipliers layout_;
  Prices prices_;
};

}  // namespace fettlefund::budgets::search
