#include "tests/bench/rule_costs.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "tests/bench/rules_out.hpp"

namespace fettlefund::bench {
namespace {

double mean(const std::vector<double>& values) {
  double sum = 0;
  for (double v : values) sum += v;
  return values.empty() ? 0 : sum / static_cast<double>(values.size());
}

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  const std::size_t middle = values.size() / 2;
  return values.size() % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
}

}  // namespace

double RuleCost::drop() const { return mean(with) - mean(without); }

double RuleCost::drop_error() const {
  const std::size_t count = with.size();
  if (count < 2) return 0;
  double sum = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const double off = with[i] - without[i] - drop();
    sum += off * off;
  }
  return std::sqrt(sum / static_cast<double>(count - 1) / static_cast<double>(count));
}

std::vector<RuleCost> rule_costs() {
  std::vector<RuleCost> costs;
  for (const RuleOut& rule : rules_out()) costs.push_back({rule.name, {}, {}});
  return costs;
}

void print_rule_costs(const std::vector<double>& all, std::vector<RuleCost> costs) {
  std::printf("gap with all rules: mean %.2f %%, median %.2f %%\n\n", mean(all), median(all));
  std::printf("| rule taken out | problems | mean gap with | without | less by | median with | without |\n");
  std::printf("|---|---|---|---|---|---|---|\n");
  std::stable_sort(costs.begin(), costs.end(),
                   [](const RuleCost& a, const RuleCost& b) { return a.drop() > b.drop(); });
  for (const RuleCost& cost : costs) {
    std::printf("| %s | %zu | %.1f | %.1f | %.1f +- %.1f | %.1f | %.1f |\n", cost.rule.c_str(),
                cost.with.size(), mean(cost.with), mean(cost.without), cost.drop(), cost.drop_error(),
                median(cost.with), median(cost.without));
  }
}

}  // namespace fettlefund::bench
