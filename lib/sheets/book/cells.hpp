#pragma once
#include <compare>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "budgets/values/date.hpp"
#include "budgets/values/money.hpp"
#include "lib/sheets/book/references.hpp"

/// The workbook as plain data, before any library sees it: what tests compare and the writer renders. Rows
/// and columns count from 0.
namespace fettlefund::sheets {

using budgets::Date;
using budgets::Money;

struct Minutes {
  std::int64_t count = 0;  ///< shown as decimal hours
  friend auto operator<=>(Minutes, Minutes) = default;
};
struct BasisPoints {
  std::int64_t count = 0;  ///< hundredths of a percent; shown as percent, so that 525 stands as 5.25
  friend auto operator<=>(BasisPoints, BasisPoints) = default;
};
/// A figure that is no money: `units` over 10^`digits`, shown with that many decimals.
struct Decimal {
  std::int64_t units = 0;
  int digits = 0;  ///< 0 to 4
  friend auto operator<=>(Decimal, Decimal) = default;
};

/// What a cell holds; of a formula its cached result. std::monostate: empty.
using Value =
    std::variant<std::monostate, std::string, Money, Date, std::int64_t, Minutes, BasisPoints, Decimal>;

/// How a figure is shown. The last four are decimals with 1 to 4 digits.
enum class Shown { text, money, date, count, hours, percent, tenths, hundredths, thousandths, finer };
Shown shown_of(const Value& value);  ///< `text` for an empty cell

/// What a cell is for; the writer gives each its look. `input`, `typed` and `tick` are unlocked, all others
/// locked; what is typed into a `typed` cell stays the text that it is.
enum class Look {
  body,
  hint,
  strong,
  title,
  note,
  header,
  header_right,
  band,
  band_total,
  input,
  typed,
  tick,
  linked,
  centred,
  figure,
  care,
  prose  ///< a note that wraps, spread over columns
};

struct Style {
  Look look = Look::body;
  Shown shown = Shown::text;
  friend auto operator<=>(Style, Style) = default;
};

struct Cell {
  Value value;
  std::string formula;  ///< with its "="; empty: `value` is a constant
  Style style;
  int columns = 1;   ///< merged with the cells to its right if more than 1
  std::string link;  ///< "'Work order'!A12": where a click leads within the workbook; empty: nowhere
};

/// Widths are in characters of the standard font. The column is as wide as its longest text that does not
/// spill, between these limits; longer texts wrap.
struct Column {
  double least = 6, most = 12;
  bool hidden = false;
};

/// What may be typed into the cells of a range. Spreadsheets do not enforce it on pasted values.
/// `pick` offers a list.
enum class Entry { tick, amount, any_amount, packs, hours, stage, day, pick };
struct EntryRule {
  Range range;
  Entry entry = Entry::tick;
  int most = 0;                      ///< stage: the last one
  std::vector<std::string> words{};  ///< pick: these, at most 255 bytes together
  std::string source{};              ///< pick: or what this formula comes to, a range of cells
  bool others = false;               ///< pick: other texts may be typed too
};

/// Colours the cells of a range where a formula (written for its first cell) holds. Never the only sign.
enum class Tone { warning, settled };
struct Highlight {
  Range range;
  std::string formula;
  Tone tone = Tone::warning;
};

struct Curve {
  std::string name;
  Range values;
  bool limit = false;  ///< of lines: drawn dashed and without markers
};
struct Chart {
  enum class Kind { lines, stacked_columns } kind = Kind::lines;
  int row = 0, column = 0, width_px = 0, height_px = 0;
  std::string title, across, up, description;
  bool dated = false;  ///< the categories are days
  Range categories;
  std::vector<Curve> curves;
  /// The row in which it ends, where rows are as high as they are at first: 20 pixels.
  int last_row() const { return row + height_px / 20; }
};

/// One sheet. Cells may be put in any order; a second cell at the same place is std::logic_error.
class Sheet {
 public:
  explicit Sheet(std::string sheet_name) : name(std::move(sheet_name)) {}

  void put(int row, int column, Value value, Look look = Look::body);
  /// An empty cell that awaits a figure shown as `shown`.
  void await(int row, int column, Shown shown, Look look = Look::input);
  /// `formula` without its "="; `cached` is what it comes to.
  void compute(int row, int column, std::string formula, Value cached, Look look = Look::figure);
  /// A text over `columns` columns, wrapped, its row made high enough.
  void spread(int row, int column, int columns, const std::string& text, Look look = Look::body);
  const Cell* find(int row, int column) const;
  /// A click on the cell leads to that row of another sheet. std::logic_error if there is no such cell.
  void link(int row, int column, const std::string& sheet_name, int to_row);
  double width(int column) const;  ///< for the texts put so far
  double printed_width() const;    ///< of the columns that are printed, with their edges
  /// Points of each row of more than one line: not every spreadsheet program fits rows by itself.
  std::map<int, double> row_heights() const;

  std::string name;
  std::map<std::pair<int, int>, Cell> cells;  ///< by row, then column
  std::vector<Column> columns;
  std::map<int, double> heights;  ///< points; of rows with a text spread over columns
  int header_row = -1;            ///< frozen above its lower edge
  int header_rows = 1;            ///< up to that one: printed on each page where it is repeated
  int frozen_columns = 0;
  int filter_rows = 0;        ///< under the header, that can be filtered and sorted by it; 0: none
  bool open = false;          ///< everything may be changed, rows moved and sorted
  bool repeat_header = true;  ///< on each printed page
  bool landscape = false;
  int printed_columns = 0;  ///< from the left; those behind them are for the screen. 0: all
  bool hidden = false;
  std::vector<int> page_breaks;  ///< rows that begin a page
  std::vector<EntryRule> entries;
  std::vector<Highlight> highlights;
  std::optional<Chart> chart;
  std::map<int, int> stage_rows;  ///< stage number -> the row where it begins

 private:
  void place(int row, int column, Cell cell);
};

struct Name {
  std::string name;  ///< letters, digits, underscores; not shaped like a cell reference
  std::string sheet;
  Range range;
};

struct Book {
  std::string title;
  int digits = 2;  ///< decimals of the currency
  std::vector<Sheet> sheets;
  std::vector<Name> names;
};

}  // namespace fettlefund::sheets
