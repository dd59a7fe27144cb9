#pragma once
#include <optional>
#include <variant>
#include <vector>

#include "budgets/costing/basket.hpp"
#include "budgets/problem/plan.hpp"

namespace fettlefund::budgets {

/// `cost` for many schedules of one problem: what only depends on the problem is computed once. The problem
/// must outlive it. Not for use from two threads at once.
class Coster {
 public:
  explicit Coster(const Problem& problem) : problem_(problem), buyer_(problem) {}

  /// As the function `cost` of plan.hpp.
  std::variant<Plan, std::vector<Violation>> cost(const Schedule& schedule) const {
    return cost(schedule, true);
  }

  /// The same, faster where there is no plan: of what a schedule breaks perhaps not all is told, and more
  /// cash may be lacking than in the way that lacks least.
  std::variant<Plan, std::vector<Violation>> glance(const Schedule& schedule) const {
    return cost(schedule, false);
  }

  /// The plan alone.
  std::optional<Plan> plan(const Schedule& schedule) const;

  std::int64_t work() const { return work_; }  ///< comparisons of ways to buy so far

 private:
  std::variant<Plan, std::vector<Violation>> cost(const Schedule& schedule, bool tell) const;

  const Problem& problem_;
  Buyer buyer_;
  mutable std::int64_t work_ = 0;
};

}  // namespace fettlefund::budgets
