#include "lib/sheets/pages/past_ticks.hpp"

#include <algorithm>

#include "lib/log/entry.hpp"
#include "lib/text/utf8.hpp"

namespace fettlefund::sheets {

namespace {

/// The column under a heading; -1: none.
int column_under(const Sheet& sheet, const std::string& heading) {
  for (const auto& [place, cell] : sheet.cells) {
    const auto* text = std::get_if<std::string>(&cell.value);
    if (place.first == sheet.header_row && text != nullptr && *text == heading) return place.second;
  }
  return -1;
}

std::string text_at(const Sheet& sheet, int row, int column) {
  const Cell* cell = sheet.find(row, column);
  const auto* text = cell == nullptr ? nullptr : std::get_if<std::string>(&cell->value);
  return text == nullptr ? "" : *text;
}

/// How many were ticked.
std::int64_t tick_rows(Sheet& sheet, const char* heading, const Past& past) {
  const int tick = column_under(sheet, "Tick"), what = column_under(sheet, heading);
  const int key = column_under(sheet, "Key");
  std::int64_t ticked = 0;
  for (auto& [place, cell] : sheet.cells) {
    if (place.second != tick || cell.style.look != Look::tick) continue;
    const std::string words = ticked_words(text_at(sheet, place.first, what));
    if (past.told.count({text_at(sheet, place.first, key), words}) == 0) continue;
    cell.value = std::string("x");
    ++ticked;
  }
  return ticked;
}

void count_steps(Sheet& overview, std::int64_t ticked) {
  for (auto& [place, cell] : overview.cells)
    if (cell.formula.find(names::work_tick) != std::string::npos) cell.value = ticked;
}

}  // namespace

std::string ticked_words(const std::string& what) {
  return "ticked: " + text::shortened(what, log::longest_remark / 2);
}

void tick_again(Book& book, const Past& past) {
  if (past.told.empty()) return;
  std::int64_t steps = 0;
  for (Sheet& sheet : book.sheets) {
    if (sheet.name == kWorkOrder) steps = tick_rows(sheet, "What to do", past);
    if (sheet.name == kTools) tick_rows(sheet, "Tool", past);
    if (sheet.name == kForgotten) tick_rows(sheet, "What", past);
  }
  for (Sheet& sheet : book.sheets)
    if (sheet.name == kOverview) count_steps(sheet, steps);
}

}  // namespace fettlefund::sheets
