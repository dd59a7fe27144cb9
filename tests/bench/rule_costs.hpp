#pragma once
#include <string>
#include <vector>

namespace fettlefund::bench {

/// The gaps (per cent) of the problems that have a rule, with it and without it, in equal order.
struct RuleCost {
  std::string rule;
  std::vector<double> with, without;

  double drop() const;  ///< mean of what a gap falls by; 0 without problems
  /// Its standard error: problems with small optima have gaps that hide a small drop.
  double drop_error() const;
};

/// An entry without gaps for each of `rules_out()`.
std::vector<RuleCost> rule_costs();

/// The gaps of all problems, and a table of the rules, the dearest first, to standard output.
void print_rule_costs(const std::vector<double>& all, std::vector<RuleCost> costs);

}  // namespace fettlefund::bench
