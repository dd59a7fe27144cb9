#include <algorithm>

#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { tick, stage, bench, job, hours, done_on, taken, own_remark, want, cost, in_all, key, state };
constexpr int kFirstRow = kHeaderRow + 1;

/// What is bought for the job in this stage, whenever it is paid, with its fee. What several share counts
/// whole.
Money cost_of(const Outcome& outcome, const planning::StageView& view, const planning::JobView& one) {
  Money sum;
  for (const auto& fee : view.fee_lines) sum += fee.job == one.id ? fee.amount : Money();
  for (const auto& paid : outcome.stages) {
    for (const auto& order : paid.orders) {
      for (const auto& line : order.lines) {
        const bool needs = std::any_of(line.needed_by.begin(), line.needed_by.end(),
                                       [&](const auto& user) { return !user.removal && user.id == one.id; });
        if (needs && line.for_stage + 1 == view.number) sum += line.amount;
      }
    }
  }
  return sum;
}

/// With all that comes off for it, also where it comes off for others too.
std::int64_t minutes_in_all(const planning::StageView& view, const planning::JobView& one) {
  std::int64_t sum = one.minutes;
  for (const auto& removal : view.removals) {
    const auto& jobs = removal.for_jobs;
    if (std::find(jobs.begin(), jobs.end(), one.name) != jobs.end()) sum += removal.minutes;
  }
  return sum;
}

void add_job(Sheet& sheet, const Outcome& outcome, int row, const planning::StageView& view,
             const planning::JobView& one) {
  sheet.await(row, tick, Shown::text, Look::tick);
  sheet.put(row, stage, static_cast<std::int64_t>(view.number), Look::centred);
  sheet.put(row, bench, view.bench);
  sheet.put(row, job, one.must ? one.name + " (must)" : one.name, Look::strong);
  sheet.put(row, hours, Minutes{one.minutes});
  sheet.await(row, done_on, Shown::date);
  sheet.await(row, taken, Shown::hours);
  sheet.await(row, own_remark, Shown::text);
  sheet.put(row, want, static_cast<std::int64_t>(one.want), Look::centred);
  sheet.put(row, cost, cost_of(outcome, view, one));
  sheet.put(row, in_all, Minutes{minutes_in_all(view, one)});
  sheet.put(row, key, fmt::format("job:{}@{}", one.id, view.number), Look::note);
  sheet.await(row, state, Shown::text);
}

/// What is recorded of a job: all of it white but the remark.
void add_past(Sheet& sheet, int row, const planning::PastJob& one, const Past& past) {
  using State = planning::PastJob::State;
  if (one.state == State::done)
    sheet.put(row, tick, std::string("x"), Look::centred);
  else
    sheet.await(row, tick, Shown::text, Look::body);
  const auto& stage_of_it = past.stages[static_cast<std::size_t>(one.stage - 1)];
  sheet.put(row, stage, static_cast<std::int64_t>(one.stage), Look::centred);
  sheet.put(row, bench, stage_of_it.bench);
  sheet.put(row, job, one.name, Look::strong);
  sheet.put(row, state,
            std::string(one.state == State::begun      ? kBegun
                        : one.state == State::given_up ? kGivenUp
                                                       : "done"));
  sheet.put(row, hours, Minutes{one.minutes});
  sheet.put(row, done_on, one.date);
  if (one.taken)
    sheet.put(row, taken, Minutes{*one.taken});
  else
    sheet.await(row, taken, Shown::hours, Look::body);
  std::vector<std::string> words = one.remarks;
  if (!one.by.empty()) words.push_back("recorded by " + one.by);
  sheet.put(row, own_remark, join(words, "; "));
  sheet.put(row, want, static_cast<std::int64_t>(one.want), Look::centred);
  sheet.await(row, cost, Shown::money, Look::body);
  sheet.put(row, in_all, Minutes{one.minutes_in_all});
  sheet.put(row, key, fmt::format("past:{}:{}", one.entry, one.id), Look::note);
}

void add_rules(Sheet& sheet, int last) {
  const auto rows = [&](int column) { return Range{kFirstRow, column, last, column}; };
  sheet.entries.push_back({rows(tick), Entry::tick, 0});
  sheet.entries.push_back({rows(done_on), Entry::day, 0});
  sheet.entries.push_back({rows(taken), Entry::hours, 0});
  sheet.entries.push_back({rows(state), Entry::pick, 0, {kBegun, kGivenUp}});
  const int first = kFirstRow + 1;
  sheet.highlights.push_back(
      {rows(taken), fmt::format("=ISTEXT(${}{})", column_letters(taken), first), Tone::warning});
  sheet.highlights.push_back(
      {{kFirstRow, stage, last, hours}, fmt::format("=$A{}=\"x\"", first), Tone::settled});
}

}  // namespace

void add_jobs(Book& book, const Outcome& outcome, const Past& past) {
  Sheet sheet =
      begin_sheet(kJobs, "Jobs",
                  "Tick with x what is done. Hours taken: with taking off and putting back; empty "
                  "means as planned. State: begun, with the hours that went into it, or given up. Goods, fee "
                  "and hours with what comes off: what jobs share counts whole for each.",
                  {{"Tick", 5.5, 5.5},
                   {"Stage", 6.5, 6.5},
                   {"Bench date", 11.5, 11.5},
                   {"Job", 26, 36},
                   {"Hours of the job", 9, 10, Heading::figures},
                   {"Done on", 11.5, 11.5},
                   {"Hours taken", 9, 10, Heading::figures},
                   {"Your remark", 24, 28},
                   {"Want", 6.5, 6.5},
                   {"Goods and fee", 10, 16, Heading::figures},
                   {"Hours with what comes off", 11, 11, Heading::figures},
                   {"Key", 10, 30, Heading::hidden},
                   {"State", 9, 10}});
  sheet.landscape = true;
  sheet.frozen_columns = job + 1;
  int row = kFirstRow;
  for (const planning::PastJob& one : past.jobs) add_past(sheet, row++, one, past);
  for (const auto& view : outcome.stages)
    for (const auto& one : view.jobs) add_job(sheet, outcome, row++, view, one);
  if (row == kFirstRow) sheet.put(row++, job, "The plan does no job.");
  add_rules(sheet, row - 1);
  name_rows(book, sheet, names::job_stage, stage, kFirstRow, row - 1);
  name_rows(book, sheet, names::job_hours, taken, kFirstRow, row - 1);
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
