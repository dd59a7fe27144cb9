#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "lib/sheets/xlsx/xlsx.hpp"

namespace fettlefund::sheets {

/// What stood in one row of a visible sheet when the workbook was written, cell by cell from column 0.
///
/// `marks` has a letter a cell: `.` none, `#` a heading, `e` empty, `s` text, `m` money in minor units, `d` a
/// day as yyyy-mm-dd, `n` a whole number, `h` hours in minutes, `p` percent in hundredths, `q` a figure as
/// "units:digits", `f` a formula, as its shape (see formula_shape.hpp). A capital letter: the cell is for
/// typing.
struct RecordedRow {
  std::string sheet;
  std::string key;  ///< empty: a row that is only to be looked at
  int row = 0;      ///< from 0
  std::string marks;
  std::vector<std::string> values;  ///< as many as marks
};

/// The hidden sheet of a workbook: whose it is, and a copy of everything else in it.
struct PlanRecord {
  std::string build;              ///< its name
  std::string build_fingerprint;  ///< of the build file's text
  std::string currency;           ///< its code
  std::string log_id;             ///< of the log that the plan stands by; empty: there was none
  std::int64_t log_entries = 0;   ///< that the log had
  std::vector<RecordedRow> rows;  ///< sheet by sheet from the top
};

/// Tells plans and their workbooks apart: changes with any of a record's texts.
std::string plan_fingerprint(const PlanRecord& record);

/// The record of a workbook. Throws Unreadable where it is missing, of another format, or not as written.
PlanRecord read_plan_record(const StoredBook& book);

}  // namespace fettlefund::sheets
