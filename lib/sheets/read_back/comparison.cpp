#include "lib/sheets/read_back/comparison.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "lib/sheets/book/formula_shape.hpp"
#include "lib/sheets/book/sheet_columns.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"
#include "lib/text/nearest.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {
namespace {

using Kind = StoredCell::Kind;

std::string quoted(const std::string& text) {
  return text.empty() ? "nothing" : "'" + text::shortened(text, 60) + "'";
}

/// One sheet, now and as recorded.
class SheetComparison {
 public:
  SheetComparison(const StoredSheet& sheet, std::vector<const RecordedRow*> rows, int digits, bool from_1904,
                  Comparison& to)
      : sheet_(sheet), recorded_(std::move(rows)), digits_(digits), from_1904_(from_1904), to_(to) {}

  void run() {
    const ColumnFinding finding = find_columns(sheet_, recorded_);
    for (const std::string& missing : finding.missing)
      tell(true, -1, -1,
           fmt::format("the heading '{}' is gone or stands twice; it names what is in its column", missing));
    if (!finding.missing.empty()) return;
    columns_ = finding.columns;
    header_row_ = finding.header_row;
    for (const auto& [row, column] : sheet_.comments)
      tell(false, row, column, "a comment stands here; comments are not recorded, type it under Your remark");
    sort_rows();
    match_keys();
    match_others();
  }

 private:
  void tell(bool error, int row, int column, const std::string& text) {
    const std::string cell = row < 0 ? "" : reference(row, std::max(column, 0));
    to_.remarkable.push_back({error, sheet_.name, cell, text});
  }

  const StoredCell* at(int row, int column) const {
    const auto found = sheet_.cells.find({row, column});
    return found == sheet_.cells.end() ? nullptr : &found->second;
  }

  /// Rows that have a key now, and those that have not but are not empty.
  void sort_rows() {
    const auto keys = std::find_if(columns_.begin(), columns_.end(),
                                   [](const SheetColumn& one) { return one.heading == "Key"; });
    for (const auto& [place, cell] : sheet_.cells) {
      const auto [row, column] = place;
      if (row == header_row_) continue;
      const bool key = keys != columns_.end() && column == keys->now;
      if (key && cell.kind == Kind::text && !cell.computed)
        keyed_[cell.text].push_back(row);
      else if (key)
        tell(true, row, column,
             fmt::format("{} is no key; leave the hidden key column as it is", shown_text(&cell)));
      occupied_.insert(row);
    }
    for (const auto& [key, rows] : keyed_)
      for (const int row : rows) occupied_.erase(row);
    key_column_ = keys == columns_.end() ? -1 : keys->now;
  }

  void match_keys() {
    std::vector<std::string> known;
    for (const RecordedRow* row : recorded_) {
      if (row->key.empty()) continue;
      known.push_back(row->key);
      match(*row);
    }
    const text::Names names(known);
    for (const auto& [key, rows] : keyed_) {
      if (names.has(key)) continue;
      const std::string nearest = text::nearest_name(key, names);
      for (const int row : rows)
        tell(true, row, key_column_,
             fmt::format("{} is no key of this workbook{}", quoted(key),
                         nearest.empty() ? "" : "; did it stand for '" + nearest + "'?"));
    }
  }

  void match(const RecordedRow& row) {
    const auto found = keyed_.find(row.key);
    if (found == keyed_.end())
      return tell(false, -1, -1, fmt::format("the row of {} is gone, what it held is not recorded", row.key));
    if (found->second.size() > 1) {
      for (const int now : found->second)
        tell(true, now, key_column_,
             fmt::format("the key {} stands in {} rows; which of them counts?", row.key,
                         found->second.size()));
      return;
    }
    KeyedRow keyed{sheet_.name, row.key, found->second.front(), row.row, {}};
    for (const SheetColumn& column : columns_)
      keyed.cells.emplace(column.heading, pair_of(row, keyed.row, column));
    look_at(keyed);
    look_beside(keyed.row);
    to_.rows.push_back(std::move(keyed));
  }

  Pair pair_of(const RecordedRow& row, int now, const SheetColumn& column) const {
    const auto before = static_cast<std::size_t>(column.before);
    Pair pair{at(now, column.now), '.', "", column.now};
    if (before < row.marks.size()) {
      pair.mark = row.marks[before];
      pair.before = row.values[before];
    }
    return pair;
  }

  /// Locked cells of the row. Where something is typed beside a name that is not the key's, it may be meant
  /// for either.
  void look_at(const KeyedRow& keyed) {
    const bool typed = std::any_of(keyed.cells.begin(), keyed.cells.end(), [&](const auto& cell) {
      return cell.second.input() && !unchanged(cell.second, digits_, from_1904_);
    });
    for (const auto& [heading, pair] : keyed.cells) {
      if (pair.input() || unchanged(pair, digits_, from_1904_)) continue;
      if (typed && names_the_row(heading))
        tell(
            true, keyed.row, pair.column,
            fmt::format("{} stands here, but the hidden key of the row is {}, which was {}; what is typed in "
                        "this row may be meant for either: put the row back together",
                        shown_text(pair.now), keyed.key, quoted(pair.before)));
      else
        tell_changed(keyed.row, pair);
    }
  }

  /// Columns that say what a row is about.
  static bool names_the_row(const std::string& heading) {
    static const std::set<std::string> names = {
        "Stage", "Supplier", "Article",    "Job",        "Bench date",     "What", "Needed by",
        "Step",  "Tool",     "What to do", "Needed for", "Job or removal", "Kind"};
    return names.count(heading) != 0;
  }

  /// What was written there as the cell showed it.
  std::string written(const Pair& pair) const {
    if (pair.mark == 'm') {
      std::string digits = std::to_string(std::abs(std::atoll(pair.before.c_str())));
      const auto decimals = static_cast<std::size_t>(digits_);
      if (digits.size() <= decimals) digits.insert(0, decimals + 1 - digits.size(), '0');
      if (decimals > 0) digits.insert(digits.size() - decimals, ".");
      return (pair.before.starts_with('-') ? "-" : "") + digits;
    }
    if (pair.mark == 'h') return number_text(static_cast<double>(std::atoll(pair.before.c_str())) / 60);
    return pair.mark == 'n' || pair.mark == 'd' ? pair.before : quoted(pair.before);
  }

  void tell_changed(int row, const Pair& pair) {
    const std::string now = shown_text(pair.now);
    const bool other = pair.mark == 'f' && pair.now != nullptr && pair.now->computed;
    const std::string text =
        other ? fmt::format("the formula is another one now, and comes to {}; it is not taken", now)
        : pair.mark == 'f'
            ? fmt::format("{} stands where a formula belongs; it is not taken", now)
            : fmt::format("{} stands where {} was written; it is not taken", now, written(pair));
    tell(false, row, pair.column, text);
  }

  bool mapped(int column) const {
    return std::any_of(columns_.begin(), columns_.end(),
                       [&](const SheetColumn& one) { return one.now == column; });
  }

  /// Cells in columns that the sheet did not have.
  void look_beside(int row) {
    const auto end = sheet_.cells.lower_bound({row + 1, 0});
    for (auto it = sheet_.cells.lower_bound({row, 0}); it != end; ++it)
      if (!mapped(it->first.second))
        tell(false, row, it->first.second,
             fmt::format("{} stands beside the sheet; it is not taken", shown_text(&it->second)));
  }

  std::vector<Pair> pairs_of(const RecordedRow& row, int now) const {
    std::vector<Pair> pairs;
    for (const SheetColumn& column : columns_) pairs.push_back(pair_of(row, now, column));
    return pairs;
  }

  bool same(const RecordedRow& row, int now) const {
    for (const Pair& pair : pairs_of(row, now))
      if (!unchanged(pair, digits_, from_1904_)) return false;
    return true;
  }

  /// Rows without a key: titles, bands, notes. Each is to be somewhere; what is over was added.
  void match_others() {
    std::vector<const RecordedRow*> missing;
    for (const RecordedRow* row : recorded_)
      if (row->key.empty() && row->row != header_before()) missing.push_back(row);
    std::erase_if(missing, [&](const RecordedRow* row) { return take(*row); });
    std::erase_if(missing, [&](const RecordedRow* row) { return take_changed(*row); });
    for (const RecordedRow* row : missing) tell_gone(*row);
    for (const int row : occupied_) tell_added(row);
  }

  int header_before() const { return header_of(recorded_)->row; }

  bool take(const RecordedRow& row) {
    const auto found =
        occupied_.count(row.row) != 0 && same(row, row.row)
            ? occupied_.find(row.row)
            : std::find_if(occupied_.begin(), occupied_.end(), [&](int now) { return same(row, now); });
    if (found == occupied_.end())
      return !std::any_of(row.values.begin(), row.values.end(),
                          [](const auto& value) { return !value.empty(); });
    look_beside(*found);
    occupied_.erase(found);
    return true;
  }

  /// A row that stands where it stood and shares something with what was there.
  bool take_changed(const RecordedRow& row) {
    if (occupied_.count(row.row) == 0) return false;
    for (const Pair& pair : pairs_of(row, row.row))
      if (!unchanged(pair, digits_, from_1904_)) tell_changed(row.row, pair);
    look_beside(row.row);
    occupied_.erase(row.row);
    return true;
  }

  void tell_gone(const RecordedRow& row) {
    for (const std::string& value : row.values) {
      if (value.empty()) continue;
      return tell(false, -1, -1, fmt::format("the row that began with {} is gone or changed", quoted(value)));
    }
  }

  /// A text in an added row is for people; a number or a tick could count, and has no key.
  void tell_added(int row) {
    const auto end = sheet_.cells.lower_bound({row + 1, 0});
    for (auto it = sheet_.cells.lower_bound({row, 0}); it != end; ++it) {
      const StoredCell& cell = it->second;
      const bool tick = cell.kind == Kind::text && read_tick(&cell).value.value_or(false);
      const bool counts =
          mapped(it->first.second) && key_column_ >= 0 && (tick || cell.kind != Kind::text || cell.computed);
      tell(counts, row, it->first.second,
           counts ? fmt::format(
                        "{} stands in a row without a key; what is not planned belongs in the lines for it",
                        shown_text(&cell))
                  : fmt::format("{} stands in an added row; it is not taken", shown_text(&cell)));
    }
  }

  const StoredSheet& sheet_;
  std::vector<const RecordedRow*> recorded_;
  int digits_;
  bool from_1904_;
  Comparison& to_;
  std::vector<SheetColumn> columns_;
  int header_row_ = -1, key_column_ = -1;
  std::map<std::string, std::vector<int>> keyed_;
  std::set<int> occupied_;
};

/// What a figure's mark and text come to in a cell.
std::optional<double> figure_of(char mark, const std::string& text, int digits, bool from_1904) {
  if (mark == 'd') {
    const auto day = budgets::read_date(text);
    if (!day) return std::nullopt;
    return static_cast<double>(budgets::spreadsheet_serial(*day)) - (from_1904 ? 1462 : 0);
  }
  const double units = std::atof(text.substr(0, text.find(':')).c_str());
  switch (mark) {
    case 'm':
      return units / std::pow(10, digits);
    case 'h':
      return units / 60;
    case 'p':
      return units / 100;
    case 'q':
      return units / std::pow(10, std::atoi(text.substr(text.find(':') + 1).c_str()));
    default:
      return units;
  }
}

}  // namespace

const Pair* KeyedRow::find(const std::string& heading) const {
  const auto found = cells.find(heading);
  return found == cells.end() || found->second.mark == '.' ? nullptr : &found->second;
}

std::string KeyedRow::place(const std::string& heading) const {
  const auto found = cells.find(heading);
  return found == cells.end() ? "" : reference(row, found->second.column);
}

bool unchanged(const Pair& pair, int digits, bool from_1904) {
  const char mark =
      pair.mark >= 'A' && pair.mark <= 'Z' ? static_cast<char>(pair.mark - 'A' + 'a') : pair.mark;
  const StoredCell* now = pair.now;
  if (mark == 'f')  // a shared formula stands in another cell
    return now != nullptr && now->computed &&
           (now->formula.empty() || formula_shape(now->formula) == pair.before);
  if (mark == '.' || mark == 'e') return now == nullptr || (now->kind == Kind::text && now->text.empty());
  if (now == nullptr || now->computed) return false;
  if (mark == 's' || mark == '#') return now->kind == Kind::text && now->text == pair.before;
  const auto figure = figure_of(mark, pair.before, digits, from_1904);
  return figure && now->kind == Kind::number &&
         std::abs(now->number - *figure) <= 1e-9 * std::max(1.0, std::abs(*figure));
}

Comparison compare(const StoredBook& book, const PlanRecord& record) {
  Comparison to;
  const auto currency = budgets::find_currency(record.currency);
  std::vector<std::string> order;
  std::map<std::string, std::vector<const RecordedRow*>> rows;
  for (const RecordedRow& row : record.rows) {
    if (rows[row.sheet].empty()) order.push_back(row.sheet);
    rows[row.sheet].push_back(&row);
  }
  for (const std::string& name : order) {
    const auto found = std::find_if(book.sheets.begin(), book.sheets.end(),
                                    [&](const StoredSheet& sheet) { return sheet.name == name; });
    if (found == book.sheets.end()) {
      to.remarkable.push_back({true, name, "", "the sheet is gone or has another name"});
      continue;
    }
    SheetComparison(*found, rows[name], currency ? currency->digits : 2, book.from_1904, to).run();
  }
  for (const StoredSheet& sheet : book.sheets)
    if (rows.count(sheet.name) == 0 && sheet.name != kPlanRecord)
      to.remarkable.push_back({false, sheet.name, "", "the sheet was added; it is not taken"});
  return to;
}

}  // namespace fettlefund::sheets
