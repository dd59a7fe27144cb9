#include "lib/form/writing/lay_out.hpp"

#include <algorithm>

#include "lib/form/grid.hpp"
#include "lib/form/writing/cell_looks.hpp"
#include "lib/form/writing/field_sheet.hpp"
#include "lib/form/writing/guide.hpp"
#include "lib/form/writing/kinds_sheet.hpp"
#include "lib/form/writing/marker.hpp"
#include "lib/form/writing/missing.hpp"
#include "lib/sheets/book/render.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::Look;
using sheets::Range;
using sheets::Sheet;
using sheets::Shown;

constexpr double missing_width = 26;

std::map<std::string_view, std::string> name_ranges(const Filled& filled) {
  std::map<std::string_view, std::string> ranges;
  for (std::size_t s = 0; s < all_sheets().size(); ++s)
    if (all_sheets()[s].kind == Kind::entries)
      ranges[all_sheets()[s].name] =
          sheets::absolute(std::string(all_sheets()[s].name), names_range(filled, s));
  return ranges;
}

/// A table's sheet.
class Table {
 public:
  Table(const Filled& filled, std::size_t number, const std::map<std::string_view, std::string>& names,
        int digits)
      : filled_(filled),
        spec_(all_sheets()[number]),
        rows_(filled.sheets[number]),
        digits_(digits),
        sheet_(std::string(spec_.name)) {
    ground_.names = names;
  }

  Sheet make() {
    place_columns();
    put_head();
    int row = first_row;
    for (const FormRow& one : rows_) put_row(row++, one);
    if (rows_.empty()) put_example(row++);
    for (const int end = row + empty_rows; row < end; ++row) put_row(row, {});
    last_ = row - 1 + watched_rows;
    for (const Column& column : spec_.columns) watch(column);
    sheet_.highlights.push_back({range_of(ground_.last + 1),
                                 "LEFT($" + sheets::column_letters(ground_.last + 1) +
                                     std::to_string(first_row + 1) + ",7)=\"Example\"",
                                 sheets::Tone::settled});
    return std::move(sheet_);
  }

 private:
  void place_columns() {
    sheet_.columns = {{6, 6, true}};
    if (spec_.kind == Kind::entries) sheet_.columns.push_back({6, 6, true});
    ground_.first = static_cast<int>(sheet_.columns.size());
    for (const Column& column : spec_.columns) {
      ground_.columns[column.heading] = static_cast<int>(sheet_.columns.size());
      sheet_.columns.push_back({column.width, column.width});
    }
    ground_.last = static_cast<int>(sheet_.columns.size()) - 1;
    sheet_.columns.push_back({missing_width, missing_width});
    sheet_.header_row = explanation_row;
    sheet_.header_rows = 2;
    sheet_.open = sheet_.landscape = true;
    if (spec_.kind == Kind::entries) sheet_.frozen_columns = ground_.first + 1;
    if (spec_.name == steps_sheet) sheet_.frozen_columns = ground_.first + 3;  // what it is, and whose
  }

  void put_head() {
    sheet_.put(title_row, ground_.first, std::string(spec_.name), Look::title);
    sheet_.put(about_row, ground_.first, std::string(spec_.about), Look::note);
    sheet_.put(heading_row, 0, std::string(key_heading), Look::header);
    sheet_.put(explanation_row, 0, std::string(explanation_mark), Look::hint);
    if (spec_.kind == Kind::entries)
      sheet_.put(heading_row, 1, std::string(name_before_heading), Look::header);
    for (const Column& column : spec_.columns) {
      const int at = ground_.columns.at(column.heading);
      sheet_.put(heading_row, at, std::string(column.heading), Look::header);
      const bool star = column.required && spec_.variants.empty();
      sheet_.put(explanation_row, at, (star ? "Needed. " : "") + std::string(column.explanation), Look::hint);
    }
    sheet_.put(heading_row, ground_.last + 1, std::string(missing_heading), Look::header);
    sheet_.put(explanation_row, ground_.last + 1, std::string("By itself: what the row lacks."), Look::hint);
  }

  void put_cell(int row, const Column& column, const sheets::Value& value) {
    const int at = ground_.columns.at(column.heading);
    put_typed(sheet_, row, at, column.type, value);
  }

  void put_row(int row, const FormRow& one) {
    if (!one.id.empty()) {
      sheet_.put(row, 0, one.id, Look::hint);
      sheet_.put(row, 1, one.values.at(spec_.columns.front().heading), Look::hint);
    }
    for (const Column& column : spec_.columns) {
      const auto value = one.values.find(column.heading);
      put_cell(row, column, value == one.values.end() ? sheets::Value() : value->second);
    }
    sheet_.compute(row, ground_.last + 1, missing_formula(spec_, ground_, row), std::string(), Look::hint);
  }

  /// What a reader of the file gets from a cell with that value.
  sheets::StoredCell stored(const sheets::Value& value) const {
    sheets::StoredCell cell;
    if (const auto* text = std::get_if<std::string>(&value)) {
      cell.kind = text->empty() ? sheets::StoredCell::Kind::blank : sheets::StoredCell::Kind::text;
      cell.text = *text;
    } else if (!std::holds_alternative<std::monostate>(value)) {
      cell.kind = sheets::StoredCell::Kind::number;
      cell.number = sheets::stored_number(value, digits_);
    }
    return cell;
  }

  /// Compares each cell of the example with what was written: the same as its digest says.
  void put_example(int row) {
    std::vector<sheets::StoredCell> cells;
    std::string same;
    for (const Column& column : spec_.columns) {
      const sheets::Value value = cell_value(column.type, std::string(column.example), digits_);
      put_cell(row, column, value);
      cells.push_back(stored(value));
      const std::string at = sheets::reference(row, ground_.columns.at(column.heading));
      const std::string is = cells.back().kind == sheets::StoredCell::Kind::number
                                 ? fmt::format("{}", cells.back().number)
                                 : "\"" + cells.back().text + "\"";
      same += fmt::format("{}{}={}", same.empty() ? "" : ",", at, is);
    }
    std::vector<const sheets::StoredCell*> all;
    for (const sheets::StoredCell& cell : cells) all.push_back(is_blank(&cell) ? nullptr : &cell);
    sheet_.put(row, 0, std::string(example_mark) + digest_of(all), Look::hint);
    const std::string words = "Example: does not count until it is changed";
    sheet_.compute(row, ground_.last + 1,
                   fmt::format("IF(AND({}),\"{}\",{})", same, words, missing_formula(spec_, ground_, row)),
                   words, Look::hint);
  }

  Range range_of(int to) const { return {first_row, ground_.first, last_, to}; }

  void watch(const Column& column) {
    const int at = ground_.columns.at(column.heading);
    const Range range{first_row, at, last_, at};
    if (const std::string lack = lack_formula(spec_, ground_, column.heading, first_row); !lack.empty())
      sheet_.highlights.push_back({range, lack, sheets::Tone::warning});
    if (column.type == Type::tick) sheet_.entries.push_back({range, sheets::Entry::tick, 0});
    sheets::EntryRule rule{range, sheets::Entry::pick, 0};
    if (column.type == Type::choice) rule.words = split_words(column.choices);
    if (!column.from.empty()) rule.source = list_source(filled_, column.from);
    rule.others = column.type == Type::many || column.type == Type::one_or_word;
    if (!rule.words.empty() || !rule.source.empty()) sheet_.entries.push_back(std::move(rule));
  }

  const Filled& filled_;
  const SheetSpec& spec_;
  const std::vector<FormRow>& rows_;
  int digits_;
  Ground ground_;
  int last_ = 0;
  Sheet sheet_;
};

Sheet marker() {
  Sheet sheet{std::string(marker_sheet)};
  sheet.hidden = true;
  sheet.columns = {{20, 20}, {6, 6}};
  sheet.put(0, 0, std::string(marker_word));
  sheet.put(0, 1, std::int64_t{form_version});
  return sheet;
}

}  // namespace

sheets::Book lay_out(const Filled& filled, const std::string& title, int digits, std::string_view trade) {
  sheets::Book book;
  book.title = title;
  book.digits = digits;
  book.sheets.push_back(guide());
  const auto names = name_ranges(filled);
  for (std::size_t s = 0; s < all_sheets().size(); ++s)
    book.sheets.push_back(all_sheets()[s].kind == Kind::fields ? field_sheet(filled, s)
                                                               : Table(filled, s, names, digits).make());
  book.sheets.push_back(kinds_sheet(trade));
  book.sheets.push_back(marker());
  return book;
}

}  // namespace fettlefund::form
