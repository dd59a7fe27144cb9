#include <algorithm>

#include "lib/goods/packs.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { tick, what, amount, why, needed_by, stage, bought, paid, key, count };
constexpr int kFirstRow = kHeaderRow + 1;
constexpr int kSpareLines = 6, kFewestSpare = 3;

void add_reminder(Sheet& sheet, int row, int number, const planning::Reminder& reminder) {
  sheet.await(row, tick, Shown::text, Look::tick);
  sheet.put(row, what, reminder.article, Look::strong);
  sheet.put(row, amount, goods::write_amount(reminder.amount, reminder.unit));
  sheet.put(row, why, reminder.why);
  sheet.put(row, needed_by, goods::who_needs(reminder));
  sheet.put(row, stage, static_cast<std::int64_t>(number), Look::centred);
  sheet.put(row, bought, reminder.bought ? "in Shopping" : "not priced");
  sheet.await(row, paid, Shown::money, reminder.bought ? Look::body : Look::input);
  sheet.put(row, key, reminder.key, Look::note);
}

void add_spare(Sheet& sheet, int row, int number) {
  sheet.await(row, tick, Shown::text, Look::tick);
  for (const int c : {what, amount, why, needed_by}) sheet.await(row, c, Shown::text);
  sheet.await(row, stage, Shown::count);
  sheet.await(row, bought, Shown::text);
  sheet.await(row, paid, Shown::money);
  sheet.put(row, key, fmt::format("added:{}", number), Look::note);
}

void add_rules(Sheet& sheet, int spare, int last, int stages) {
  sheet.entries.push_back({{kFirstRow, tick, last, tick}, Entry::tick, 0});
  sheet.entries.push_back({{kFirstRow, paid, last, paid}, Entry::amount, 0});
  sheet.entries.push_back({{spare, stage, last, stage}, Entry::stage, stages});
  sheet.highlights.push_back({{kFirstRow, paid, last, paid},
                              fmt::format("=ISTEXT(${}{})", column_letters(paid), kFirstRow + 1),
                              Tone::warning});
  sheet.highlights.push_back(
      {{kFirstRow, what, last, bought}, fmt::format("=$A{}=\"x\"", kFirstRow + 1), Tone::settled});
}

/// Fewer than usual where those would begin a page, unless too few are left.
int spare_lines(const Sheet& sheet, int row) {
  const int room = lines_left(sheet, row) - 1;  // below the band
  return room >= kFewestSpare ? std::min(room, kSpareLines) : kSpareLines;
}

int last_stage(const Outcome& outcome) {
  if (!outcome.stages.empty()) return outcome.stages.back().number;
  return outcome.build->money.stages_over;
}

}  // namespace

void add_forgotten(Book& book, const Outcome& outcome) {
  Sheet sheet = begin_sheet(kForgotten, "Easily forgotten", "",
                            {{"Tick", 4.5, 4.5},
                             {"What", 16, 16},
                             {"Amount", 9, 11},
                             {"Why", 22, 22},
                             {"Needed by", 14, 14},
                             {"Stage", 5.5, 5.5},
                             {"Bought", 10, 12},
                             {"Paid", 7.7, 14, Heading::figures},
                             {"Key", 10, 30, Heading::hidden}});
  int row = kFirstRow;
  for (const auto& view : outcome.stages)
    for (const auto& reminder : view.reminders) add_reminder(sheet, row++, view.number, reminder);
  share_page(sheet, {{what, 0.25}, {why, 0.43}, {needed_by, 0.32}});
  put_note(
      sheet,
      "Small things that the jobs need. What is bought in Shopping is paid there; look whether the others "
      "are in the house, or type under Paid what the others cost.");
  const int lines = spare_lines(sheet, row);
  put_band(sheet, row++, key, "Added by hand");
  const int spare = row;
  for (int i = 1; i <= lines; ++i) add_spare(sheet, row++, i);
  share_last_page(sheet, row);
  add_rules(sheet, spare, row - 1, last_stage(outcome));
  name_rows(book, sheet, names::forgotten_stage, stage, kFirstRow, row - 1);
  name_rows(book, sheet, names::forgotten_paid, paid, kFirstRow, row - 1);
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
