#include <algorithm>
#include <map>
#include <utility>

#include "budgets/values/lists.hpp"
#include "lib/drive/links.hpp"
#include "lib/outcome/ready_days.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/outcome/view.hpp"
#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

void fill_money(StageView& to, const View& view, int stage) {
  const budgets::StageCost& from = view.cost(stage);
  to.payday_amount = payday_amount(view.build.money, view.staging.calendar, stage);
  to.extras = extras_of(view.build.money, view.staging.calendar, stage);
  to.cash_in = view.stage(stage).cash_in;
  to.goods = from.goods;
  to.delivery = from.delivery;
  to.hire = from.hire;
  to.fees = from.fees;
  to.allowance = from.allowance;
  to.spent = from.spent;
  to.cash_after = from.cash_after;
  to.floor = view.stage(stage).floor;
}

void fill_bench(StageView& to, const View& view, int stage) {
  to.minutes_used = view.cost(stage).job_minutes + view.cost(stage).removal_minutes;
  to.minutes_limit = view.stage(stage).minutes;
  for (const build::BenchException& exception : view.build.bench.exceptions) {
    if (exception.stage == to.number) to.bench_note = exception.why;
  }
}

bool opens(const View& view, int job, int removal) {
  for (const int r : view.problem.opened_by(job)) {
    if (r == removal) return true;
  }
  return false;
}

/// Whether what stands for the removal is opened, too: then it comes off once, as that.
bool is_stood_for(const View& view, const std::vector<int>& opened, int removal) {
  return std::any_of(opened.begin(), opened.end(),
                     [&](int r) { return view.removal(r).stands_for == view.removal(removal).id; });
}

/// Sorts jobs and removals by the first step of each in the work order.
void order_as_worked(StageView& stage) {
  std::map<std::pair<bool, Id>, int> first;
  for (const WorkStep& step : stage.work) first.emplace(std::pair(step.of_job, step.of), step.number);
  std::stable_sort(stage.jobs.begin(), stage.jobs.end(), [&](const JobView& a, const JobView& b) {
    return first[{true, a.id}] < first[{true, b.id}];
  });
  std::stable_sort(stage.removals.begin(), stage.removals.end(),
                   [&](const RemovalView& a, const RemovalView& b) {
                     return first[{false, a.id}] < first[{false, b.id}];
                   });
}

void fill_work(StageView& to, const View& view, int stage) {
  const budgets::StageCost& from = view.cost(stage);
  for (const int j : from.jobs) {
    const build::Job& job = view.job(j);
    to.jobs.push_back({job.id, job.name, job.want.value_or(0), job.must, job.minutes, job.manual, job.note,
                       uses_of(view.build, job)});
    if (job.cost > Money()) to.fee_lines.push_back({job.id, job.name, job.cost});
  }
  for (const int r : from.opened) {
    if (is_stood_for(view, from.opened, r)) continue;
    const build::Removal& removal = view.removal(r);
    RemovalView& off = to.removals.emplace_back();
    off.id = removal.id;
    off.name = removal.name;
    off.minutes = removal.minutes_off + removal.minutes_on;
    off.for_good = removal.for_good;
    const int original = find_id(view.build.removals, removal.stands_for);
    for (const int j : from.jobs) {
      if (opens(view, j, r) || opens(view, j, original)) off.for_jobs.push_back(view.job(j).name);
    }
  }
  for (const int k : in_file_order(view.staging.tool_of)) {
    if (!budgets::contains(from.hired, k)) continue;
    const build::Article& tool = view.tool(k);
    to.hires.push_back({tool.id, tool.name, tool.hire.value_or(Money())});
  }
  const BenchTime time = bench_time(view.build, view.staging.calendar, stage);
  std::vector<Date> days;
  for (const Evening& evening : time.evenings) days.push_back(evening.date);
  to.work = graph::work_order(view.build, from.jobs, from.opened, days);
  to.sessions = lay_out(view.build, to.work, time.evenings, ready_days(view, stage, to.work, time));
  to.cautions = graph::cautions_for(view.build, from.jobs, from.opened);
  graph::place_cautions(view.build, from.jobs, from.opened, to.work);
  order_as_worked(to);
  to.tools = stage_tools(view, stage);
}

}  // namespace

StageView stage_view(const View& view, int stage) {
  StageView to;
  to.number = view.place_of(stage) + 1;
  to.payday = view.stage(stage).payday;
  to.bench = view.stage(stage).bench;
  to.by_sessions = view.staging.has_sessions;
  to.last = view.stage(stage).last_day();
  fill_money(to, view, stage);
  fill_bench(to, view, stage);
  fill_work(to, view, stage);
  to.orders = orders_of(view, stage);
  to.reminders = reminders_of(view, stage);
  to.while_off = due_parts(view, stage);
  to.groups = groups_of(view, stage);
  return to;
}

}  // namespace fettlefund::planning
