#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/bound/prices.hpp"
#include "budgets/search/meter.hpp"

namespace fettlefund::budgets::search {

inline double real(std::int64_t x) { return static_cast<double>(x); }

/// Multipliers near the best of the linear relaxation: with money, bench time and every charge priced too,
/// each unit, tool and charge decides for itself, and an iteration costs a small part of filling a completion
/// table. Doubles only choose multipliers here; the bound they give is worked out elsewhere, in integers.
class LinearDual {
 public:
  explicit LinearDual(const Relaxed& relaxed);

  /// The volume algorithm (F. Barahona, R. Anbil, "The volume algorithm: producing primal solutions with a
  /// subgradient method", Mathematical Programming 87, 2000), until steps are short or for at most `steps`.
  /// `hope`: a worth that the bound can hardly go below. Returns what the multipliers come to, in worth.
  double run(double hope, std::int64_t steps, Meter& meter);

  /// Writes what was found where `layout` has a place for it; it may have fewer charges shared.
  void write(const Multipliers& layout, std::vector<double>& values);

  /// [unit] worth in the first stage allowed for each point of worth that doing it then takes from others:
  /// of money, of bench time, and of its share of all that it needs and others may need too. 0: no worth.
  std::vector<double> rates();

 private:
  void price(const std::vector<double>& values);
  void price_stages(const std::vector<double>& values);
  void price_demands(const std::vector<double>& values);
  void price_lines(const std::vector<double>& values);
  double line_price(const SureLine& line, int stage, const std::vector<double>& values,
                    Prices::Choice& choice) const;
  double choose();
  void measure();
  void measure_caps();
  void add_lines(std::vector<double>& money) const;
  void measure_joins();
  double evaluate(const std::vector<double>& values);
  bool step(double theta, double hope, std::vector<double>& next) const;
  double mix(double most);
  double best_profit(int unit, int& stage) const;

  const Relaxed& relaxed_;
  Multipliers layout_;  ///< with every charge shared
  int size_ = 0;
  std::vector<double> best_;
  double bound_ = 0;  ///< of the best
  /// [one * stages + stage]
  std::vector<double> profit_, tool_profit_, charge_profit_, order_profit_;
  std::vector<Prices::Choice> choices_;             ///< [line * stages + stage]
  std::vector<double> money_price_, minute_price_;  ///< [stage]
  double constant_ = 0;
  std::vector<int> unit_stage_, tool_stage_;  ///< -1: not chosen
  std::vector<double> excess_;                ///< [multiplier] by how much the choice misses the demand
  std::vector<double> mean_;                  ///< the same of choices so far, later ones counting more
};

}  // namespace fettlefund::budgets::search
