#include "lib/check/check.hpp"

#include <algorithm>
#include <stdexcept>
#include <tuple>

#include "lib/goods/forgotten.hpp"
#include "lib/graph/work_order.hpp"

namespace fettlefund::planning {
namespace {

/// The amounts of a build may be so large together that sums could leave the range of money.
void check_magnitudes(const Staging& staging, Findings& findings) {
  try {
    const budgets::Problem problem(staging.problem);
  } catch (const std::invalid_argument& refusal) {
    findings.error({}, "", refusal.what(), "amounts, dates and hours small enough to plan with");
  }
}

void check_all(const build::Build& build, Findings& findings) {
  findings.take(graph::check_cycles(build));
  findings.take(goods::check_rules(build));
  const Calendar calendar = calendar_of(build.money);
  check_dates(build, calendar, findings);
  if (static_cast<int>(calendar.paydays.size()) < build.money.stages) return;
  const Staging staging = to_staging(build);
  check_goods(build, staging, findings);
  check_mates(build, findings);
  if (build::has_errors(findings.all())) return;  // a cycle or a date would only be told twice
  check_jobs(build, staging, findings);
  if (!build::has_errors(findings.all())) check_magnitudes(staging, findings);
  if (!build::has_errors(findings.all())) check_musts(build, staging, findings);
}

}  // namespace

std::vector<build::Diagnostic> check(const build::Build& build) {
  Findings findings(build);
  try {
    check_all(build, findings);
  } catch (const budgets::MoneyOverflow&) {
    findings.error({}, "/money", "", "amounts whose sums stay within the range of money");
  }
  std::vector<build::Diagnostic> all = std::move(findings.all());
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) {
    return std::make_tuple(a.severity, a.place.line, a.place.column) <
           std::make_tuple(b.severity, b.place.line, b.place.column);
  });
  return all;
}

}  // namespace fettlefund::planning
