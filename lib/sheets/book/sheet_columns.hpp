#pragma once
#include <string>
#include <vector>

#include "lib/sheets/record/plan_record.hpp"

namespace fettlefund::sheets {

struct SheetColumn {
  std::string heading;  ///< empty: a column without one
  int before = 0, now = 0;
};

struct ColumnFinding {
  int header_row = -1;  ///< now
  std::vector<SheetColumn> columns;
  std::vector<std::string> missing;  ///< headings that are gone or stand twice
};

/// The recorded row of headings; every sheet has one.
const RecordedRow* header_of(const std::vector<const RecordedRow*>& rows);

/// Where each recorded column is now: the row that holds most of the headings tells.
ColumnFinding find_columns(const StoredSheet& sheet, const std::vector<const RecordedRow*>& rows);

}  // namespace fettlefund::sheets
