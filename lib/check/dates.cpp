#include "lib/check/check.hpp"

namespace fettlefund::planning {
namespace {

void check_enough_paydays(const build::Build& build, const Calendar& calendar, Findings& findings) {
  const int given = build.money.stages_over + static_cast<int>(calendar.paydays.size());
  if (given >= build.money.stages) return;
  findings.error({}, "/money/paydays", std::to_string(given) + (given == 1 ? " payday" : " paydays"),
                 std::to_string(build.money.stages) + ", as many as money/stages asks for");
}

/// Days that the file lists are taken at their word.
void check_listed(const build::Build& build, Findings& findings) {
  const auto* listed = std::get_if<budgets::ListedDays>(&build.money.rule);
  if (listed == nullptr) return;
  for (std::size_t i = 0; i < listed->days.size(); ++i) {
    if (!build.money.holidays.contains(listed->days[i])) continue;
    findings.warning({}, "/money/paydays/dates/" + std::to_string(i), budgets::write_date(listed->days[i]),
                     "a day that is not among the holidays; it is used as listed");
  }
}

void check_bench_days(const build::Build& build, const Calendar& calendar, Findings& findings) {
  const int days = build.bench.days_after_payday;
  for (std::size_t i = 0; i < calendar.paydays.size(); ++i) {
    const Date next = i + 1 < calendar.paydays.size() ? calendar.paydays[i + 1] : calendar.end;
    const Date payday = i == 0 ? calendar.first_payday : calendar.paydays[i];
    if (payday + days < next) continue;
    findings.error({}, "/bench/days_after_payday", std::to_string(days),
                   "at most " + std::to_string(next - payday - 1) + ": the payday after " +
                       budgets::write_date(payday) + " is " + budgets::write_date(next));
    return;
  }
}

void check_exceptions(const build::Build& build, Findings& findings) {
  for (std::size_t i = 0; i < build.bench.exceptions.size(); ++i) {
    const int stage = build.bench.exceptions[i].stage;
    if (stage >= 1 && stage <= build.money.stages) continue;
    findings.error({}, "/bench/stages/" + std::to_string(i) + "/stage", std::to_string(stage),
                   "a stage from 1 to " + std::to_string(build.money.stages));
  }
}

void check_extras(const build::Build& build, const Calendar& calendar, Findings& findings) {
  for (std::size_t i = 0; i < build.money.extras.size(); ++i) {
    const build::Extra& extra = build.money.extras[i];
    if (extra.date < calendar.end) continue;
    findings.warning({}, "/money/extras/" + std::to_string(i) + "/date", budgets::write_date(extra.date),
                     "a day before " + budgets::write_date(calendar.end) +
                         ", when the plan ends; this amount is not counted");
  }
}

}  // namespace

void check_dates(const build::Build& build, const Calendar& calendar, Findings& findings) {
  check_enough_paydays(build, calendar, findings);
  check_listed(build, findings);
  check_bench_days(build, calendar, findings);
  check_exceptions(build, findings);
  check_extras(build, calendar, findings);
}

}  // namespace fettlefund::planning
