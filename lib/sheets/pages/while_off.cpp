#include <algorithm>
#include <cstdlib>

#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

using planning::DuePart;

enum Column { stage, bench, part, due, how_due, plan, money, hours, count };
constexpr int kFirstRow = kHeaderRow + 1;

std::string how_due_of(const DuePart& part) {
  const int months = std::abs(part.overdue_months);
  const std::string span = fmt::format("{} month{}", months, months == 1 ? "" : "s");
  return part.overdue_months < 0 ? "due in " + span : months == 0 ? "due now" : span + " overdue";
}

std::string job_name(const Outcome& outcome, const build::Id& id) {
  const auto& jobs = outcome.build->jobs;
  const auto found = std::find_if(jobs.begin(), jobs.end(), [&](const auto& job) { return job.id == id; });
  return found == jobs.end() ? id : found->name;
}

std::string plan_of(const Outcome& outcome, const DuePart& part) {
  if (part.chosen) return "renewed in this stage: " + job_name(outcome, part.job);
  if (part.job.empty()) return "no job of the build renews it: look at it while it lies open";
  if (part.renewed_in)
    return fmt::format("not here but in stage {}: {}", *part.renewed_in + 1, job_name(outcome, part.job));
  return "not in this stage; it could be: " + job_name(outcome, part.job);
}

void add_part(Sheet& sheet, int row, const Outcome& outcome, const planning::StageView& view,
              const DuePart& due_part) {
  sheet.put(row, stage, static_cast<std::int64_t>(view.number), Look::centred);
  sheet.put(row, bench, view.bench);
  sheet.put(row, part, due_part.name, Look::strong);
  sheet.put(row, due, due_part.due);
  sheet.put(row, how_due, how_due_of(due_part));
  sheet.put(row, plan, plan_of(outcome, due_part));
  if (due_part.extra_money) sheet.put(row, money, *due_part.extra_money);
  if (due_part.extra_minutes) sheet.put(row, hours, Minutes{*due_part.extra_minutes});
  for (const int c : {money, hours})
    if (sheet.find(row, c) == nullptr) sheet.await(row, c, Shown::text, Look::body);
}

}  // namespace

void add_while_off(Book& book, const Outcome& outcome) {
  Sheet sheet =
      begin_sheet(kWhileOff, "While it is off",
                  "Fitted parts past or near their service age that lie open in a stage anyway. Extra: what "
                  "renewing one takes beyond the rest of the stage (goods, fee, tools; no delivery).",
                  {{"Stage", 6.5, 6.5},
                   {"Bench date", 11.5, 11.5},
                   {"Fitted part", 16, 32},
                   {"Due", 11.5, 11.5},
                   {"How due", 12, 20},
                   {"In the plan", 20, 40},
                   {"Extra money", 10, 16, Heading::figures},
                   {"Extra hours", 8, 10, Heading::figures}});
  sheet.landscape = true;
  int row = kFirstRow;
  for (const auto& view : outcome.stages)
    for (const auto& due_part : view.while_off) add_part(sheet, row++, outcome, view, due_part);
  if (row == kFirstRow) sheet.spread(row, 0, count, "No fitted part is due while a stage lays it open.");
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
