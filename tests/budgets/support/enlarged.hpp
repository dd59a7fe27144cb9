#pragma once

#include <utility>
#include <vector>

#include "budgets/problem/problem.hpp"

namespace fettlefund::testing {

/// The problem with every amount of money multiplied, so that rounding to minor units, or to levels of the
/// bound's axis of money, weighs as it does in a real build.
class Enlarging {
 public:
  explicit Enlarging(int factor) : factor_(factor) {}
  budgets::ProblemData operator()(budgets::ProblemData data) const {
    enlarge(data.opening);
    for (auto& stage : data.stages) enlarge(stage.cash_in), enlarge(stage.floor);
    for (auto& job : data.jobs) enlarge(job.cost);
    for (auto& removal : data.removals) enlarge(removal.cost);
    for (auto& supplier : data.suppliers) {
      enlarge(supplier.delivery);
      if (supplier.free_from) enlarge(*supplier.free_from);
    }
    for (auto& article : data.articles) enlarge(article.offers);
    for (auto& tool : data.tools) {
      enlarge(tool.offers);
      if (tool.hire) enlarge(*tool.hire);
    }
    return data;
  }

 private:
  void enlarge(budgets::Money& amount) const { amount = amount * factor_; }
  void enlarge(std::vector<budgets::Offer>& offers) const {
    for (budgets::Offer& offer : offers) enlarge(offer.price);
  }

  int factor_;
};

inline budgets::ProblemData enlarged(budgets::ProblemData data, int factor) {
  return Enlarging(factor)(std::move(data));
}

}  // namespace fettlefund::testing
