#pragma once
#include <map>
#include <string>
#include <vector>

#include "lib/sheets/read_back/read_workbook.hpp"
#include "lib/sheets/record/plan_record.hpp"

/// A workbook held against its own record of what was written.
namespace fettlefund::sheets {

/// A cell as it is now and as it was.
struct Pair {
  const StoredCell* now = nullptr;  ///< nothing: empty
  char mark = '.';                  ///< as in RecordedRow
  std::string before;
  int column = 0;  ///< now
  bool input() const { return mark >= 'A' && mark <= 'Z'; }
};

/// A row with a key, found again.
struct KeyedRow {
  std::string sheet, key;
  int row = 0;  ///< now
  int row_before = 0;
  std::map<std::string, Pair> cells;  ///< by heading; only those that were written

  const Pair* find(const std::string& heading) const;
  std::string place(const std::string& heading) const;  ///< "I7"
};

/// Whether the cell shows what was written there: formulas only have to keep their
/// shape.
bool unchanged(const Pair& pair, int digits, bool from_1904);

struct Comparison {
  std::vector<KeyedRow> rows;  ///< sheet by sheet, as the workbook was written
  std::vector<Remarkable> remarkable;
};

/// Finds every recorded row again. Tells (errors) missing sheets and headings, unknown keys and keys that
/// stand twice, numbers and ticks in rows without a key; (else) locked cells that are changed, rows that are
/// gone, texts beside the sheets, sheets that were added. Rows of a key that stands twice are left out.
Comparison compare(const StoredBook& book, const PlanRecord& record);

}  // namespace fettlefund::sheets
