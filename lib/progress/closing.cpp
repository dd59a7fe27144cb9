#include "lib/progress/closing.hpp"

#include <algorithm>

#include "lib/progress/replan.hpp"
#include "lib/staging/stages.hpp"

namespace fettlefund::planning {
namespace {

/// Nothing: the job is done.
std::optional<LeftOut> left_out_of(const build::Job& job, const History& history) {
  const auto is = [&](const auto& one) { return one.job == job.id; };
  if (std::any_of(history.done.begin(), history.done.end(), is)) return std::nullopt;
  const auto given_up = std::find_if(history.given_up.begin(), history.given_up.end(), is);
  LeftOut left;
  left.job = job.id;
  left.name = job.name;
  left.reason = given_up == history.given_up.end()
                    ? "every stage is over"
                    : "it was given up on " + budgets::write_date(given_up->date);
  return left;
}

}  // namespace

int stages_over(const build::Build& build, Date day) {
  const Calendar calendar = calendar_of(build.money);
  int over = 0;
  while (over < std::ssize(calendar.paydays) && bench_time(build, calendar, over).last < day) ++over;
  return over;
}

bool all_over(const build::Build& build, Date day) {
  return stages_over(build, day) == std::ssize(calendar_of(build.money).paydays);
}

Closing close_on(const build::Build& build, const log::Log& log, Date day) {
  const History history = history_of(log, day);
  Closing closing;
  closing.build = std::make_unique<build::Build>(build);
  build::Build& left = *closing.build;
  left.money.opening = cash_on(build, history, day);
  left.money.from = day;
  left.money.stages_over = stages_over(build, day);
  left.log_id = log.id;
  left.log_entries = log.entries.size();
  closing.outcome.build = &left;
  closing.outcome.end = calendar_of(build.money).end;
  closing.outcome.left = left.money.opening;
  for (const build::Job& job : build.jobs) {
    if (auto one = left_out_of(job, history)) closing.outcome.left_out.push_back(std::move(*one));
  }
  return closing;
}

}  // namespace fettlefund::planning
