#pragma once
#include <cstdint>
#include <vector>

#include "budgets/search/meter.hpp"
#include "budgets/search/prices.hpp"

namespace fettlefund::budgets::search {

/// Multipliers near the best of the linear relaxation, found with money, bench time and all charges priced:
/// then every unit, tool and charge decides for itself, and an iteration costs a thousandth of filling a
/// completion table. Worth having where units and stages are many. Doubles only choose multipliers here.
class LinearDual {
 public:
  explicit LinearDual(const Relaxed& relaxed);

  /// The volume algorithm (F. Barahona, R. Anbil, "The volume algorithm: producing primal solutions with a
  /// subgradient method", Mathematical Programming 87, 2000), for at most `steps`.
  /// `hope`: a worth the bound can hardly go below. Returns the bound of the multipliers, for orientation
  /// only.
  double run(double hope, std::int64_t steps, Meter& meter);

  /// Writes what was found where `layout` has a place for it.
  void write(const Multipliers& layout, std::vector<double>& values);

 private:
  struct Point {
    std::vector<double> values;
    double bound = 0;
  };
  void price(const std::vector<double>& values);
  double choose();
  void measure();
  double evaluate(const std::vector<double>& values);
  double mix(double share);
  double step_from(const Point& best, double length, std::vector<double>& to) const;

  const Relaxed& relaxed_;
  Multipliers layout_;  ///< with every charge shared
  int first_money_ = 0;
  int size_ = 0;
  double money_unit_ = 1;
  Point best_;
  std::vector<double> profit_, tool_profit_, charge_profit_;  ///< [one * stages + stage]
  std::vector<double> money_price_, minute_price_;            ///< [stage]
  std::vector<int> unit_stage_, tool_stage_;                  ///< -1: not chosen
  std::vector<double> excess_;                                ///< by which each demand is missed
  std::vector<double> mean_;                                  ///< of the excesses, later ones counting more
  double constant_ = 0;
};

}  // namespace fettlefund::budgets::search
