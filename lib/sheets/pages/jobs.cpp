#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { tick, stage, bench, job, hours, done_on, taken, own_remark, key, count };
constexpr int kFirstRow = kHeaderRow + 1;

void add_job(Sheet& sheet, int row, const planning::StageView& view, const planning::JobView& one) {
  sheet.await(row, tick, Shown::text, Look::tick);
  sheet.put(row, stage, static_cast<std::int64_t>(view.number), Look::centred);
  sheet.put(row, bench, view.bench);
  sheet.put(row, job, one.must ? one.name + " (must)" : one.name, Look::strong);
  sheet.put(row, hours, Minutes{one.minutes});
  sheet.await(row, done_on, Shown::date);
  sheet.await(row, taken, Shown::hours);
  sheet.await(row, own_remark, Shown::text);
  sheet.put(row, key, fmt::format("job:{}@{}", one.id, view.number), Look::note);
}

void add_rules(Sheet& sheet, int last) {
  const auto rows = [&](int column) { return Range{kFirstRow, column, last, column}; };
  sheet.entries.push_back({rows(tick), Entry::tick, 0});
  sheet.entries.push_back({rows(done_on), Entry::day, 0});
  sheet.entries.push_back({rows(taken), Entry::hours, 0});
  const int first = kFirstRow + 1;
  sheet.highlights.push_back(
      {rows(taken), fmt::format("=ISTEXT(${}{})", column_letters(taken), first), Tone::warning});
  sheet.highlights.push_back(
      {{kFirstRow, stage, last, hours}, fmt::format("=$A{}=\"x\"", first), Tone::settled});
}

}  // namespace

void add_jobs(Book& book, const Outcome& outcome) {
  Sheet sheet = begin_sheet(
      kJobs, "Jobs",
      "Tick with x what is done. Hours taken: with taking off and putting back; empty means as planned.",
      {{"Tick", 5.5, 5.5},
       {"Stage", 6.5, 6.5},
       {"Bench date", 11.5, 11.5},
       {"Job", 30, 44},
       {"Hours of the job", 9, 10, Heading::figures},
       {"Done on", 11.5, 11.5},
       {"Hours taken", 9, 10, Heading::figures},
       {"Your remark", 30, 40},
       {"Key", 10, 30, Heading::hidden}});
  sheet.landscape = true;
  int row = kFirstRow;
  for (const auto& view : outcome.stages)
    for (const auto& one : view.jobs) add_job(sheet, row++, view, one);
  if (row == kFirstRow) sheet.put(row++, job, "The plan does no job.");
  add_rules(sheet, row - 1);
  name_rows(book, sheet, names::job_stage, stage, kFirstRow, row - 1);
  name_rows(book, sheet, names::job_hours, taken, kFirstRow, row - 1);
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
