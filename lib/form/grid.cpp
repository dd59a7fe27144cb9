#include "lib/form/grid.hpp"

#include <algorithm>
#include <cmath>

#include "lib/build/fingerprint.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::StoredCell;
using CellKind = StoredCell::Kind;

constexpr int deepest_header = 60;  // rows that somebody may have put above the headings

/// Headings of a sheet of fields.
constexpr std::string_view field_heading = "What";
constexpr std::string_view value_heading = "Yours";

std::vector<std::string_view> headings_of(const SheetSpec& spec) {
  if (spec.kind == Kind::fields) return {field_heading, value_heading, key_heading};
  std::vector<std::string_view> headings = {key_heading, name_before_heading};
  for (const Column& column : spec.columns) headings.push_back(column.heading);
  return headings;
}

std::string text_of(const StoredCell& cell) {
  return cell.kind == CellKind::text ? cell.text : std::string();
}

class Finder {
 public:
  explicit Finder(Grid& grid) : grid_(grid), headings_(headings_of(*grid.spec)) {}

  void find() {
    find_header();
    if (grid_.header_row < 0) return fault(0, 0, true, "", no_header());
    read_headings();
    check_headings();
    read_rows();
  }

 private:
  void fault(int row, int column, bool error, std::string found, std::string expected) {
    grid_.faults.push_back({row, column, error, std::move(found), std::move(expected)});
  }

  std::string no_header() const {
    return fmt::format("a row of headings: {}", fmt::join(headings_.begin(), headings_.end(), ", "));
  }

  std::string_view heading_at(const StoredCell& cell) const {
    const std::string text = folded(text_of(cell));
    const auto found = std::find_if(headings_.begin(), headings_.end(),
                                    [&](std::string_view one) { return folded(one) == text; });
    return found == headings_.end() ? std::string_view{} : *found;
  }

  /// The row that holds most of the headings, at least two of them.
  void find_header() {
    std::map<int, int> hits;
    for (const auto& [place, cell] : grid_.sheet->cells)
      if (place.first <= deepest_header && !heading_at(cell).empty()) ++hits[place.first];
    int most = 1;
    for (const auto& [row, count] : hits)
      if (count > most) most = count, grid_.header_row = row;
  }

  void read_headings() {
    const auto& cells = grid_.sheet->cells;
    for (auto at = cells.lower_bound({grid_.header_row, 0});
         at != cells.end() && at->first.first == grid_.header_row; ++at) {
      const int column = at->first.second;
      const std::string_view heading = heading_at(at->second);
      if (heading.empty())
        strangers_[column] = text_of(at->second);
      else if (!grid_.columns.emplace(heading, column).second)
        fault(grid_.header_row, column, true, sheets::shown_text(&at->second), "each heading once");
    }
  }

  void check_headings() {
    for (const Column& column : grid_.spec->columns) {
      if (grid_.spec->kind == Kind::fields) break;
      const bool first = &column == &grid_.spec->columns.front();
      if ((column.required || first) && !grid_.columns.contains(column.heading))
        fault(grid_.header_row, 0, true, "", fmt::format("a column with the heading '{}'", column.heading));
    }
    if (grid_.spec->kind == Kind::fields && (!has(field_heading) || !has(value_heading)))
      fault(grid_.header_row, 0, true, "", no_header());
  }

  bool has(std::string_view heading) const { return grid_.columns.contains(heading); }

  void read_rows() {
    const auto& cells = grid_.sheet->cells;
    for (auto at = cells.upper_bound({grid_.header_row, sheets::most_columns}); at != cells.end();) {
      const int row = at->first.first;
      const auto end = cells.upper_bound({row, sheets::most_columns});
      if (grid_.spec->kind == Kind::fields)
        read_field(row);
      else
        read_row(row);
      for (; at != end; ++at) tell_stranger(row, at->first.second, at->second);
    }
  }

  /// Something under a heading that the form does not know is told once a column.
  void tell_stranger(int row, int column, const StoredCell& cell) {
    const auto found = strangers_.find(column);
    if (found == strangers_.end() || is_blank(&cell) || grid_.spec->kind == Kind::fields) return;
    const std::string heading = found->second;
    strangers_.erase(found);
    if (folded(heading) == folded(missing_heading)) return;
    std::vector<std::string> known(headings_.begin(), headings_.end());
    const std::string near = text::nearest_name(heading, text::Names(std::move(known)));
    if (!near.empty() && !has(*std::find(headings_.begin(), headings_.end(), near)))
      return fault(grid_.header_row, column, true, "'" + heading + "'", "the heading '" + near + "'");
    fault(row, column, false, sheets::shown_text(&cell),
          fmt::format("nothing: a column '{}' is not read", heading));
  }

  const StoredCell* cell(int row, std::string_view heading) const {
    const auto column = grid_.columns.find(heading);
    if (column == grid_.columns.end()) return nullptr;
    const auto found = grid_.sheet->cells.find({row, column->second});
    return found == grid_.sheet->cells.end() ? nullptr : &found->second;
  }

  std::string hidden_text(int row, std::string_view heading) const {
    const StoredCell* found = cell(row, heading);
    return found == nullptr ? "" : text_of(*found);
  }

  bool is_explanation(const GridRow& row) const {
    if (row.id == explanation_mark) return true;
    const Column& first = grid_.spec->columns.front();
    const StoredCell* name = row.find(first.heading);
    return name != nullptr && row.row == grid_.header_row + 1 && text_of(*name) == first.explanation;
  }

  bool is_example(const GridRow& row) const {
    if (!row.id.starts_with(example_mark)) return false;
    std::vector<const StoredCell*> cells;
    for (const Column& column : grid_.spec->columns) cells.push_back(row.find(column.heading));
    return row.id.substr(example_mark.size()) == digest_of(cells);
  }

  void read_row(int number) {
    GridRow row;
    row.row = number;
    row.id = hidden_text(number, key_heading);
    row.name_before = hidden_text(number, name_before_heading);
    for (const Column& column : grid_.spec->columns)
      if (const StoredCell* found = cell(number, column.heading); !is_blank(found))
        row.cells[column.heading] = found;
    if (row.cells.empty() || is_explanation(row)) return;
    if (is_example(row)) {
      grid_.examples.push_back(std::move(row));
      return;
    }
    if (row.id.starts_with(example_mark)) row.id = row.name_before = "";
    grid_.rows.push_back(std::move(row));
  }

  const Column* field_of(int row) const {
    const std::string key = hidden_text(row, key_heading);
    const std::string name = folded(hidden_text(row, field_heading));
    for (const Column& column : grid_.spec->columns)
      if (folded(column.heading) == name || (!key.empty() && key == column.key)) return &column;
    return nullptr;
  }

  void read_field(int number) {
    const StoredCell* value = cell(number, value_heading);
    const Column* field = field_of(number);
    if (field == nullptr) {
      if (is_blank(value)) return;
      return fault(number, column_of(grid_, value_heading), true, sheets::shown_text(value),
                   "nothing: the row is no field of the form");
    }
    if (grid_.rows.empty()) grid_.rows.emplace_back();
    if (!grid_.field_rows.emplace(field->heading, number).second)
      return fault(number, column_of(grid_, value_heading), true, sheets::shown_text(value),
                   fmt::format("'{}' in one row only", field->heading));
    if (!is_blank(value)) grid_.rows[0].cells[field->heading] = value;
  }

  Grid& grid_;
  std::vector<std::string_view> headings_;
  std::map<int, std::string> strangers_;
};

}  // namespace

const StoredCell* GridRow::find(std::string_view heading) const {
  const auto found = cells.find(heading);
  return found == cells.end() ? nullptr : found->second;
}

bool is_blank(const StoredCell* cell) {
  if (cell == nullptr || (cell->kind == CellKind::blank && !cell->computed)) return true;
  return cell->kind == CellKind::text && folded(cell->text).empty();
}

std::string folded(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!blank)
      out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  if (out.ends_with(' ')) out.pop_back();
  return out;
}

std::string digest_of(const std::vector<const StoredCell*>& cells) {
  std::string all;
  for (const StoredCell* cell : cells) {
    if (cell != nullptr && cell->kind == CellKind::number)
      all += fmt::format("{:.6f}", cell->number);
    else if (cell != nullptr)
      all += cell->text;
    all += '\n';
  }
  return build::fingerprint(all).substr(0, 12);
}

int column_of(const Grid& grid, std::string_view heading) {
  const auto found = grid.columns.find(heading);
  return found == grid.columns.end() ? 0 : found->second;
}

Grid read_grid(const SheetSpec& spec, const sheets::StoredBook& book) {
  Grid grid;
  grid.spec = &spec;
  for (const sheets::StoredSheet& sheet : book.sheets)
    if (folded(sheet.name) == folded(spec.name)) grid.sheet = &sheet;
  if (grid.sheet != nullptr) Finder(grid).find();
  return grid;
}

}  // namespace fettlefund::form
