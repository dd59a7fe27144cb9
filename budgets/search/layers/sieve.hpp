#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/search/relaxed/relaxed.hpp"

namespace fettlefund::budgets::search {

/// Where each unit stands: its stage, or -1 if left out.
using Placing = std::vector<int>;

/// Rules out whole placings without shopping: by windows, order, groups, bench time, and the money that the
/// relaxed problem takes.
class Sieve {
 public:
  explicit Sieve(const Relaxed& relaxed);

  /// The value of the placing (exact); nothing if it breaks a rule. What passes may still lack money, goods
  /// or a fit.
  std::optional<std::int64_t> value(const Placing& placing);

  std::int64_t steps() const { return 100 + 14 * relaxed_.units; }  ///< of one call, about

 private:
  bool order_holds(int unit, const Placing& placing);
  void add(int unit, int stage);
  bool money_holds() const;
  bool days_hold(const Placing& placing) const;

  const Relaxed& relaxed_;
  std::vector<std::int64_t> spent_, minutes_;  ///< [stage]
  std::vector<char> open_;                     ///< [stage * charges + charge]
  std::vector<int> tool_stage_;                ///< [tool] first stage that needs it
  std::vector<char> taken_;                    ///< [group]
  std::int64_t value_ = 0;
};

}  // namespace fettlefund::budgets::search
