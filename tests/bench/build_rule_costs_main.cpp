#include <cstdio>
#include <string>
#include <vector>

#include "budgets/solve.hpp"
#include "lib/build/read/read.hpp"
#include "lib/outcome/plan.hpp"
#include "tests/bench/rule_costs.hpp"
#include "tests/bench/rules_out.hpp"

// How far the bound of build files lies above the best plan found, and the same with one rule taken out; see
// README.md. Ends with 1 if a file could not be read.

namespace {

using namespace fettlefund;

/// The gap in per cent of what a search came to; below zero if it found no plan of any worth.
double gap_of(const budgets::ProblemData& data, budgets::Effort effort) {
  budgets::SolveOptions options;
  options.effort = effort;
  options.explain = false;
  const budgets::Result result = budgets::solve(budgets::Problem(data), options);
  const budgets::Plan* plan = budgets::plan_of(result);
  if (plan == nullptr || plan->value <= 0) return -1;
  const auto* stopped = std::get_if<budgets::Stopped>(&result);
  const std::int64_t bound = stopped != nullptr ? stopped->bound : plan->value;
  return 100.0 * static_cast<double>(bound - plan->value) / static_cast<double>(plan->value);
}

/// Without each rule in turn. A problem that loses its plans with a rule has no entry for it.
void measure(const budgets::ProblemData& data, budgets::Effort effort, std::vector<double>& all,
             std::vector<bench::RuleCost>& costs) {
  const double with = gap_of(data, effort);
  if (with < 0) return;
  all.push_back(with);
  for (std::size_t r = 0; r < costs.size(); ++r) {
    budgets::ProblemData changed = data;
    if (!bench::rules_out()[r].take_out(changed)) continue;
    const double without = gap_of(changed, effort);
    if (without < 0) continue;
    costs[r].with.push_back(with);
    costs[r].without.push_back(without);
  }
}

bool measure_file(const std::string& path, budgets::Effort effort, std::vector<double>& all,
                  std::vector<bench::RuleCost>& costs) {
  const build::Reading reading = build::read_file(path);
  if (!reading.build || build::has_errors(planning::check(*reading.build))) {
    std::fprintf(stderr, "%s: no build that can be planned\n", path.c_str());
    return false;
  }
  measure(planning::to_staging(*reading.build).problem, effort, all, costs);
  return true;
}

}  // namespace

int main(int count, char** arguments) {
  const auto effort = count > 2 ? budgets::find_effort(arguments[1]) : std::nullopt;
  if (!effort) {
    return std::fputs("usage: build_rule_costs quick|normal|thorough FILE...\n", stderr), 2;
  }
  std::vector<double> all;
  std::vector<bench::RuleCost> costs = bench::rule_costs();
  bool good = true;
  for (int i = 2; i < count; ++i) good = measure_file(arguments[i], *effort, all, costs) && good;
  bench::print_rule_costs(all, costs);
  return good ? 0 : 1;
}
