#pragma once
#include <map>
#include <string>
#include <vector>

#include "lib/form/tables/spec.hpp"
#include "lib/sheets/xlsx/xlsx.hpp"

/// The rows of a form's sheets, wherever they and their columns have moved.
namespace fettlefund::form {

/// Headings of the hidden columns.
inline constexpr std::string_view key_heading = "Id";
inline constexpr std::string_view name_before_heading = "Name as written";

/// In the hidden column: the row of explanations, and how an example row begins. After the mark comes the
/// digest of what the example says: one that was changed counts.
inline constexpr std::string_view explanation_mark = "(explanation)";
inline constexpr std::string_view example_mark = "(example) ";

/// A row with something in it.
struct GridRow {
  int row = 0;
  std::map<std::string_view, const sheets::StoredCell*> cells;  ///< by heading; blank ones are left out
  std::string id, name_before;                                  ///< of the hidden columns

  const sheets::StoredCell* find(std::string_view heading) const;
};

/// Something wrong with the sheet itself.
struct GridFault {
  int row = 0, column = 0;
  bool error = true;
  std::string found, expected;
};

struct Grid {
  const SheetSpec* spec = nullptr;
  const sheets::StoredSheet* sheet = nullptr;  ///< null: there is none
  int header_row = -1;
  std::map<std::string_view, int> columns;  ///< by heading
  std::vector<GridRow> rows;                ///< of a sheet of fields: one row, by the fields' names
  std::map<std::string_view, int> field_rows;
  std::vector<GridRow> examples;  ///< that nobody changed
  std::vector<GridFault> faults;
};

/// The column of a heading; the first one where somebody typed over the heading, which is told by itself.
int column_of(const Grid& grid, std::string_view heading);

Grid read_grid(const SheetSpec& spec, const sheets::StoredBook& book);

/// What an example row says, shortened to a digest; the cells in the order of the columns, null where empty.
std::string digest_of(const std::vector<const sheets::StoredCell*>& cells);

bool is_blank(const sheets::StoredCell* cell);

/// For comparing headings and names: ASCII letters in lower case, blanks at the ends gone, others single.
std::string folded(std::string_view text);

}  // namespace fettlefund::form
