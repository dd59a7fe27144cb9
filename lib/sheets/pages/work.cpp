#include "lib/goods/packs.hpp"
#include "lib/outcome/sessions.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

using planning::StageView;

enum Column { tick, step, kind, of, what, torque, source, people, own_remark, key, count };
constexpr int kFirstRow = kHeaderRow + 1;

std::string torque_or_limits(const planning::WorkStep& work) {
  if (work.torque.empty()) return work.limits;
  return work.limits.empty() ? work.torque : work.torque + "; " + work.limits;
}

void add_step(Sheet& sheet, int row, int stage, const planning::WorkStep& work) {
  sheet.await(row, tick, Shown::text, Look::tick);
  sheet.put(row, step, static_cast<std::int64_t>(work.number), Look::centred);
  sheet.put(row, kind, graph::kind_text(work.kind), Look::strong);
  sheet.put(row, of, work.of_name);
  sheet.put(row, what, work.text);
  sheet.put(row, torque, torque_or_limits(work));
  sheet.put(row, source, work.source);
  sheet.put(row, people, work.helper ? "two people" : "");
  sheet.await(row, own_remark, Shown::text);
  sheet.put(row, key, fmt::format("step:{}@{}.{}", work.of, stage, work.number), Look::note);
}

void add_caution(Sheet& sheet, int row, const std::string& line) {
  for (const int c : {tick, step, of, torque, source, people, own_remark})
    sheet.await(row, c, Shown::text, Look::care);
  sheet.put(row, kind, "take care", Look::care);
  sheet.put(row, what, line, Look::care);
}

/// What is laid out or read before the first step: no step, so nothing to tick and no key.
void add_before_work(Sheet& sheet, int row, const char* word, const std::string& name,
                     const std::string& text, const std::string& from) {
  for (const int c : {tick, step, torque, people, own_remark}) sheet.await(row, c, Shown::text, Look::body);
  sheet.put(row, kind, std::string(word));
  sheet.put(row, of, name);
  sheet.put(row, what, text);
  sheet.put(row, source, from);
}

std::string amounts_of(const planning::UsedLine& used) {
  std::string text = goods::write_amount(used.amount, used.unit);
  if (used.left > 0) text += "; " + goods::write_amount(used.left, used.unit) + " left over afterwards";
  return text;
}

int add_jobs_and_parts(Sheet& sheet, int row, const StageView& stage) {
  for (const planning::JobView& job : stage.jobs) {
    if (!job.note.empty() || !job.manual.empty())
      add_before_work(sheet, row++, "job", job.name, job.note, job.manual);
  }
  for (const planning::UsedLine& used : stage.used)
    add_before_work(sheet, row++, "use", used.name, amounts_of(used), join(used.from, "; "));
  return row;
}

/// The sessions that begin, or go on, with the step, and what each leaves open.
int add_sessions_at(Sheet& sheet, int row, const StageView& stage, int number) {
  for (const planning::SessionView& session : stage.sessions) {
    if (session.last_step == 0 || session.first_step != number) continue;
    add_before_work(sheet, row++, "session", budgets::write_date(session.date),
                    planning::session_text(session), "");
    for (const std::string& line : planning::overnight_texts(session)) add_caution(sheet, row++, line);
  }
  return row;
}

std::string jobs_of(const StageView& stage) {
  std::vector<std::string> names;
  for (const auto& job : stage.jobs) names.push_back(job.name);
  return join(names, ", ");
}

int add_stage(Sheet& sheet, int row, const StageView& stage) {
  sheet.stage_rows[stage.number] = row;
  put_band(sheet, row++, key,
           fmt::format("Stage {} - bench date {} - {} of {} - {}", stage.number, planning::bench_text(stage),
                       write_hours(stage.minutes_used), write_hours(stage.minutes_limit), jobs_of(stage)));
  row = add_jobs_and_parts(sheet, row, stage);
  for (const auto& work : stage.work) {
    row = add_sessions_at(sheet, row, stage, work.number);
    for (const std::string& line : work.cautions) add_caution(sheet, row++, line);
    add_step(sheet, row++, stage.number, work);
  }
  return row;
}

}  // namespace

void add_work_order(Book& book, const Outcome& outcome) {
  Sheet sheet = begin_sheet(kWorkOrder, "Work order",
                            "A possible sequence for each stage. The maker's workshop manual goes before it. "
                            "Cautions in full: Notes.",
                            {{"Tick", 5.5, 5.5},
                             {"Step", 6, 6},
                             {"Kind", 9, 10},
                             {"Job or removal", 16, 26},
                             {"What to do", 30, 56},
                             {"Torque or limits", 16, 26},
                             {"Source", 14, 26},
                             {"People", 8, 11},
                             {"Your remark", 18, 26},
                             {"Key", 10, 30, Heading::hidden}});
  sheet.landscape = true;
  int row = kFirstRow;
  std::vector<int> blocks;
  for (const StageView& stage : outcome.stages) {
    if (stage.work.empty() && stage.cautions.empty()) continue;
    blocks.push_back(row);
    row = add_stage(sheet, row, stage);
  }
  keep_together(sheet, blocks, row);
  if (row == kFirstRow) sheet.put(row++, what, "No stage has work to do.");
  sheet.entries.push_back({{kFirstRow, tick, row - 1, tick}, Entry::tick, 0});
  sheet.highlights.push_back(
      {{kFirstRow, step, row - 1, people}, fmt::format("=$A{}=\"x\"", kFirstRow + 1), Tone::settled});
  name_rows(book, sheet, names::work_tick, tick, kFirstRow, row - 1);
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
