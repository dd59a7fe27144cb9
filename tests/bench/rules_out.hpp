#pragma once
#include <vector>

#include "budgets/problem/problem.hpp"

namespace fettlefund::bench {

/// One rule of planning taken out of a problem's data, the rest left as it is.
struct RuleOut {
  const char* name;  ///< of the rule, in words
  bool (*take_out)(
      budgets::ProblemData& data);  ///< false: the problem had nothing of it, `data` is as it was
};

/// Every rule, one entry each; the last two take out several at once. What remains is always valid where
/// `data` was; it may be impossible (where offers are taken away).
const std::vector<RuleOut>& rules_out();

}  // namespace fettlefund::bench
