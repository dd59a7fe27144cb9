#pragma once
#include <vector>

#include "budgets/solve.hpp"

namespace fettlefund::budgets::search {

/// A problem with its jobs, removals and suppliers in the order of their ranks (equal ones as listed) and
/// every list without an order of its own sorted; and the way there and back. Problems that are told apart
/// only by the order of such lists come to the same one, so that a search of it ends the same. Articles,
/// tools, their offers and lots, and carriers stay in their places.
class InOrder {
 public:
  explicit InOrder(const ProblemData& given);

  const Problem& problem() const { return problem_; }
  SolveOptions there(SolveOptions options) const;  ///< of the problem given -> of the one in order
  Result back(Result result) const;                ///< the other way

 private:
  Schedule there(const Schedule& schedule) const;
  Plan back(Plan plan) const;
  std::vector<int> jobs_back(std::vector<int> jobs) const;

  std::vector<int> jobs_, removals_, suppliers_;  ///< [place in order] place given
  Problem problem_;
};

}  // namespace fettlefund::budgets::search
