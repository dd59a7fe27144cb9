#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "budgets/search/local/annealer.hpp"

namespace fettlefund::budgets::search {

/// The opening cash at which descents anneal, minor units: `count` multiples of a grid, the first the one
/// above what there is, then downwards. Problems that differ only in their cash share nearly all of them.
/// With a `count` of 1, or where amounts together pass half of `Limits::money`: what there is.
std::vector<std::int64_t> cash_levels(const ProblemData& data, int count);

/// Several descents (`Annealer`) for one problem, each as if the opening cash were another. Each is the same
/// whatever cash there truly is, and of what it meets the best that this allows is taken: more cash allows
/// more. So plans of a search that is cut short hardly ever get poorer by having more money: only by the last
/// part of a descent, which puts in what still fits, or by a descent that falls away below when one is added
/// above.
class Descents {
 public:
  /// Both must outlive it.
  Descents(const Problem& problem, Meter& meter) : problem_(problem), meter_(meter) {}

  using Offer = std::function<void(const Found&)>;

  /// About `steps` steps, in descents each from nothing; those with another `round` make other changes.
  /// What each has found is offered.
  void run(std::int64_t steps, std::uint64_t round, const Offer& offer);

 private:
  const Problem& problem_;
  Meter& meter_;
};

}  // namespace fettlefund::budgets::search
