#include "lib/form/writing/kinds_sheet.hpp"

#include <algorithm>
#include <vector>

#include "lib/sheets/book/references.hpp"
#include "lib/trade/kinds.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::Look;
using sheets::Sheet;

constexpr int first_kind_row = 3;

/// 0 for the form's own trade, 1 for what every trade shares, 2 for the others.
int distance(const trade::Kind& kind, std::string_view trade) {
  if (!trade.empty() && trade::known_to(kind, trade)) return 0;
  return kind.trade == "common" ? 1 : 2;
}

std::vector<const trade::Kind*> in_order(std::string_view trade) {
  std::vector<const trade::Kind*> kinds;
  for (const trade::Kind& kind : trade::kinds()) kinds.push_back(&kind);
  std::stable_sort(kinds.begin(), kinds.end(), [&](const trade::Kind* a, const trade::Kind* b) {
    const int near = distance(*a, trade), far = distance(*b, trade);
    return near != far ? near < far : near == 2 && a->trade < b->trade;
  });
  return kinds;
}

std::string trades_of(const trade::Kind& kind) {
  if (kind.also.empty()) return kind.trade == "common" ? "every trade" : kind.trade;
  return fmt::format("{}, {}", kind.trade, fmt::join(kind.also, ", "));
}

std::string reminders_of(const trade::Kind& kind) {
  std::string text;
  for (const trade::Line& line : kind.lines) text += (text.empty() ? "" : ", ") + line.name;
  return text.empty() ? kind.none_because : text;
}

}  // namespace

Sheet kinds_sheet(std::string_view trade) {
  Sheet sheet{std::string(kinds_sheet_name)};
  sheet.columns = {{26, 26}, {20, 20}, {40, 40}, {64, 64}};
  sheet.landscape = true;
  sheet.header_row = first_kind_row - 1;
  sheet.frozen_columns = 1;
  sheet.put(0, 0, std::string(kinds_sheet_name), Look::title);
  sheet.put(1, 0,
            std::string("What the column Kind of work on the sheet Jobs offers. Common practice, no source."),
            Look::note);
  const char* headings[] = {"Kind of work", "Trade", "Also called", "Reminds of"};
  for (int column = 0; column < 4; ++column)
    sheet.put(first_kind_row - 1, column, std::string(headings[column]), Look::header);
  int row = first_kind_row;
  for (const trade::Kind* kind : in_order(trade)) {
    sheet.put(row, 0, kind->name, Look::strong);
    sheet.put(row, 1, trades_of(*kind));
    sheet.put(row, 2, fmt::format("{}", fmt::join(kind->words, ", ")));
    sheet.put(row++, 3, reminders_of(*kind));
  }
  return sheet;
}

std::string kinds_source() {
  const int last = first_kind_row + static_cast<int>(trade::kinds().size()) - 1;
  return "=" + sheets::absolute(std::string(kinds_sheet_name), {first_kind_row, 0, last, 0});
}

}  // namespace fettlefund::form
