#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "lib/sheets/xlsx/archive.hpp"

/// Workbooks as they stand in Office Open XML files (ISO/IEC 29500-1), whoever wrote them: cells and their
/// stored values, nothing else. Rows and columns count from 0.
namespace fettlefund::sheets {

inline constexpr std::size_t most_cells = 400'000;
inline constexpr int most_rows = 1'048'576, most_columns = 16'384;

struct StoredCell {
  enum class Kind { blank, number, text, boolean, error, iso_date } kind = Kind::blank;
  double number = 0;                     ///< of a number; 0 or 1 of a boolean
  std::string text;                      ///< of a text, an error ("#DIV/0!"), or a day as ISO 8601 text
  bool computed = false;                 ///< by a formula; `blank` then means that its result was not stored
  std::string formula;                   ///< empty also where a formula is shared from another cell
  bool as_day = false, as_time = false;  ///< the number is shown as a day, a clock time, or both
  friend bool operator==(const StoredCell&, const StoredCell&) = default;
};

struct StoredSheet {
  std::string name;
  bool hidden = false;
  std::map<std::pair<int, int>, StoredCell> cells;  ///< without blank ones that have no formula
  std::vector<std::pair<int, int>> comments;        ///< cells with a comment, in the file's order
};

struct StoredBook {
  bool from_1904 = false;  ///< days are counted from 1904-01-01, which is 0
  std::vector<StoredSheet> sheets;
};

/// The text of a part by its name without a leading slash; nothing if there is none.
using PartSource = std::function<std::optional<std::string>(const std::string& name)>;

/// The workbook of these bytes. Everything is read or the whole refused (Unreadable): a cell is never left
/// out or guessed. Macros, links and pictures are not looked at, and of formats only whether a number is
/// shown as a day or a time; formulas are not worked out.
StoredBook read_xlsx(std::string bytes);
StoredBook read_xlsx_parts(const PartSource& source);

}  // namespace fettlefund::sheets
