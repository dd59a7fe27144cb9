#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { tick, tool, how, first_stage, amount, used_for, key, count };
constexpr int kFirstRow = kHeaderRow + 1;

/// What no owned tool covers has no id; it is known by its place among its like.
std::string key_of(const planning::ToolView& view, int& uncovered) {
  return view.id.empty() ? fmt::format("uncovered:{}", ++uncovered) : "tool:" + view.id;
}

void add_tool(Sheet& sheet, int row, const planning::ToolView& view, int& uncovered) {
  sheet.await(row, tick, Shown::text, Look::tick);
  sheet.put(row, tool, view.name, Look::strong);
  sheet.put(row, how, view.how);
  if (view.first_stage >= 0)
    sheet.put(row, first_stage, static_cast<std::int64_t>(view.first_stage + 1), Look::centred);
  else
    sheet.await(row, first_stage, Shown::text, Look::body);
  sheet.put(row, amount, view.amount);
  sheet.put(row, used_for, join(view.used_for, ", "));
  sheet.put(row, key, key_of(view, uncovered), Look::note);
}

}  // namespace

void add_tools(Book& book, const Outcome& outcome) {
  Sheet sheet =
      begin_sheet(kTools, "Tools",
                  "What must be at hand, and from which stage. Tick what lies ready. What is bought or hired "
                  "is paid in Shopping.",
                  {{"Tick", 5.5, 5.5},
                   {"Tool", 18, 36},
                   {"How", 14, 24},
                   {"First stage", 8, 8},
                   {"Amount", 10, 16, Heading::figures},
                   {"Used for", 24, 56},
                   {"Key", 10, 30, Heading::hidden}});
  sheet.landscape = true;
  int row = kFirstRow, uncovered = 0;
  for (const auto& view : outcome.tools) add_tool(sheet, row++, view, uncovered);
  if (row == kFirstRow) sheet.put(row++, tool, "No tool is named in the build.");
  sheet.entries.push_back({{kFirstRow, tick, row - 1, tick}, Entry::tick, 0});
  sheet.highlights.push_back(
      {{kFirstRow, how, row - 1, how}, fmt::format("=$C{}=\"not covered\"", kFirstRow + 1), Tone::warning});
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
