#include "lib/sheets/book/sheet_columns.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace fettlefund::sheets {
namespace {

std::vector<SheetColumn> headings_of(const RecordedRow& header) {
  std::vector<SheetColumn> columns;
  for (std::size_t c = 0; c < header.marks.size(); ++c)
    if (header.marks[c] == '#') columns.push_back({header.values[c], static_cast<int>(c), -1});
  return columns;
}

/// The row with the most different headings; of equals the first.
int best_row(const StoredSheet& sheet, const std::vector<SheetColumn>& columns) {
  std::set<std::string> names;
  for (const SheetColumn& column : columns) names.insert(column.heading);
  std::map<int, std::set<std::string>> hits;
  for (const auto& [place, cell] : sheet.cells)
    if (cell.kind == StoredCell::Kind::text && names.count(cell.text) != 0)
      hits[place.first].insert(cell.text);
  int best = -1;
  std::size_t most = 0;
  for (const auto& [row, found] : hits) {
    if (found.size() <= most) continue;
    best = row;
    most = found.size();
  }
  return best;
}

/// Where the heading stands in the row; -1: nowhere or more than once.
int column_of(const StoredSheet& sheet, int row, const std::string& heading) {
  int found = -1;
  const auto end = sheet.cells.lower_bound({row + 1, 0});
  for (auto it = sheet.cells.lower_bound({row, 0}); it != end; ++it) {
    if (it->second.kind != StoredCell::Kind::text || it->second.text != heading) continue;
    if (found >= 0) return -1;
    found = it->first.second;
  }
  return found;
}

}  // namespace

const RecordedRow* header_of(const std::vector<const RecordedRow*>& rows) {
  const auto found = std::find_if(rows.begin(), rows.end(), [](const RecordedRow* row) {
    return row->marks.find('#') != std::string::npos;
  });
  if (found == rows.end()) throw Unreadable("its hidden record lacks the headings of a sheet");
  return *found;
}

ColumnFinding find_columns(const StoredSheet& sheet, const std::vector<const RecordedRow*>& rows) {
  ColumnFinding finding;
  finding.columns = headings_of(*header_of(rows));
  finding.header_row = best_row(sheet, finding.columns);
  for (SheetColumn& column : finding.columns) {
    if (finding.header_row >= 0) column.now = column_of(sheet, finding.header_row, column.heading);
    if (column.now < 0) finding.missing.push_back(column.heading);
  }
  return finding;
}

}  // namespace fettlefund::sheets
