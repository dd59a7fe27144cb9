#include "lib/sheets/pages/stage_rows.hpp"

#include "lib/sheets/book/words.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

using planning::StageView;

std::string check_of(const StageRow& row) {
  const bool below = row.left<row.floor, over = row.used> row.have || row.taken > row.have;
  return below && over ? "below keep-back, over hours"
         : below       ? "below keep-back"
         : over        ? "over hours"
                       : "ok";
}

std::string jobs_of(const StageView& view) {
  std::vector<std::string> parts;
  for (const auto& job : view.jobs) parts.push_back(job.must ? job.name + " (must)" : job.name);
  return join(parts, "; ");
}

std::string jobs_of(const Past& past, int stage) {
  std::vector<std::string> parts;
  for (const planning::PastJob& job : past.jobs) {
    if (job.stage != stage) continue;
    const bool done = job.state == planning::PastJob::State::done;
    const bool begun = job.state == planning::PastJob::State::begun;
    parts.push_back(job.name + (done ? " (done)" : begun ? " (begun)" : " (given up)"));
  }
  return join(parts, "; ");
}

std::string remarks_of(const StageView& view, const build::Build& build) {
  const budgets::Currency& currency = build.currency;
  std::vector<std::string> parts;
  for (const auto& extra : view.extras)
    parts.push_back(fmt::format("{}: {} on {}.", extra.what, budgets::write_money(extra.amount, currency),
                                budgets::write_date(extra.date)));
  if (view.floor > build.money.keep_back)
    parts.push_back(fmt::format("Keep-back holds {} for bills before the next payday.",
                                budgets::write_money(view.floor - build.money.keep_back, currency)));
  if (view.minutes_limit == 0) parts.push_back("No bench time.");
  if (!view.bench_note.empty()) parts.push_back("Bench: " + view.bench_note + ".");
  parts.insert(parts.end(), view.groups.begin(), view.groups.end());
  return join(parts, " ");
}

StageRow row_of(const planning::PastStage& stage, const Past& past, const build::Build& build) {
  StageRow row;
  row.number = stage.number;
  row.over = true;
  row.payday = stage.payday;
  row.bench = stage.bench;
  row.money_in = stage.money_in;
  row.planned = stage.planned;
  row.paid = row.counts = stage.paid;
  row.left = stage.left;
  row.floor = build.money.keep_back;
  row.used = stage.minutes_planned;
  row.have = stage.minutes_limit;
  row.taken = stage.minutes_taken;
  row.check = kPast;
  row.jobs = jobs_of(past, stage.number);
  row.remarks = join(stage.remarks, " ");
  return row;
}

/// Adds what is planned for the stage to what has happened in it. Of the hours at hand so much is gone.
void add(StageRow& row, const StageView& view, const build::Build& build, std::int64_t gone) {
  row.number = view.number;
  row.over = false;
  row.payday = view.payday;
  row.bench = view.bench;
  row.money_in += view.cash_in;
  row.planned += view.spent;
  row.counts += view.spent;
  row.left = view.cash_after;
  row.floor = view.floor;
  row.used = view.minutes_used + gone;
  row.have = std::max(row.have, view.minutes_limit);
  row.check = check_of(row);
  row.jobs += (row.jobs.empty() || view.jobs.empty() ? "" : "; ") + jobs_of(view);
  const std::string remarks = remarks_of(view, build);
  row.remarks += (row.remarks.empty() || remarks.empty() ? "" : " ") + remarks;
}

}  // namespace

std::vector<StageRow> stage_rows_of(const Outcome& outcome, const Past& past) {
  const build::Build& build = *outcome.build;
  std::vector<StageRow> rows;
  for (const planning::PastStage& stage : past.stages) rows.push_back(row_of(stage, past, build));
  for (const StageView& view : outcome.stages) {
    const bool under_way = !rows.empty() && rows.back().number == view.number;
    if (!under_way) rows.emplace_back();
    add(rows.back(), view, build, under_way ? build.bench.minutes_gone : 0);
  }
  return rows;
}

Money opening_of(const Outcome& outcome, const Past& past) {
  return past.stages.empty() ? outcome.build->money.opening : past.opening;
}

}  // namespace fettlefund::sheets
