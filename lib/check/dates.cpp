#include <algorithm>

#include "lib/check/check.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/outcome/words.hpp"

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

/// Sessions on days beyond the plan, and free days that have no session anyway.
void check_sessions(const build::Build& build, const Calendar& calendar, Findings& findings) {
  const Date first = calendar.paydays.front(), end = calendar.end;
  for (std::size_t i = 0; i < build.bench.sessions.size(); ++i) {
    const auto& date = build.bench.sessions[i].date;
    if (!date || (*date >= first && *date < end)) continue;
    findings.warning({}, "/bench/sessions/" + std::to_string(i) + "/date", budgets::write_date(*date),
                     "a day from " + budgets::write_date(first) + ", the first payday, and before " +
                         budgets::write_date(end) + ", when the plan ends; this session is not counted");
  }
  for (const Date day : build.bench.no_sessions) {
    const bool any = std::any_of(build.bench.sessions.begin(), build.bench.sessions.end(),
                                 [&](const build::Session& one) { return one.weekday == weekday(day); });
    if (!any)
      findings.warning({}, "/bench/no_sessions", budgets::write_date(day),
                       "a day on whose weekday there is a session");
  }
}

/// Stages whose sessions all come before their goods.
void check_goods_days(const build::Build& build, const Calendar& calendar, Findings& findings) {
  const int days = build.bench.days_after_payday;
  if (build.bench.sessions.empty() || days == 0) return;
  build::Build at_once = build;
  at_once.bench.days_after_payday = 0;
  for (int t = 0; t < static_cast<int>(calendar.paydays.size()); ++t) {
    const BenchTime time = bench_time(at_once, calendar, t);
    if (time.evenings.empty() || !bench_time(build, calendar, t).evenings.empty()) continue;
    const Date payday = t == 0 ? calendar.first_payday : calendar.paydays[static_cast<std::size_t>(t)];
    findings.warning({}, "/bench/days_after_payday", std::to_string(days),
                     "at most " + std::to_string(time.last - payday) +
                         ": the last session after the payday on " + budgets::write_date(payday) + " is " +
                         budgets::write_date(time.last) + "; its stage has no hours");
    return;
  }
}

void check_overnight(const build::Build& build, Findings& findings) {
  for (const TooLong& one : too_long_for_a_session(build)) {
    const auto at = static_cast<std::size_t>(one.index);
    const std::string name = one.is_job ? "/jobs/" + build.jobs[at].id : "/removals/" + build.removals[at].id;
    const std::string what =
        one.is_job ? hours_text(one.minutes) + " at a time" : hours_text(one.minutes) + " off at the least";
    findings.warning(one.is_job ? build.jobs[at].place : build.removals[at].place, name + "/overnight", what,
                     "at most " + hours_text(one.longest) +
                         ", the longest session, or \"overnight\": true: " +
                         (one.is_job ? "it is left half done overnight" : "it stays off overnight"));
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
  check_goods_days(build, calendar, findings);
  if (!calendar.paydays.empty()) check_sessions(build, calendar, findings);
  check_overnight(build, findings);
  check_exceptions(build, findings);
  check_extras(build, calendar, findings);
}

}  // namespace fettlefund::planning
