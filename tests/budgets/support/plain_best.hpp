#pragma once
#include <cstdint>
#include <optional>

#include "budgets/problem/problem.hpp"

namespace fettlefund::testing {

/// What the best plan comes to.
struct PlainBest {
  std::int64_t value = 0, spent = 0, minutes = 0;
  friend bool operator==(const PlainBest&, const PlainBest&) = default;
};

/// The best of all stages for jobs, all tools bought and all ways of buying, each judged by the rules as
/// problem.hpp and plan.hpp have them, without `cost`, the verifier or anything of the search. For about 4
/// jobs x 3 stages. Nothing: no plan keeps the rules. `all` tells whether all ways of buying could be tried.
std::optional<PlainBest> plain_best(const budgets::Problem& problem, bool& all);

}  // namespace fettlefund::testing
