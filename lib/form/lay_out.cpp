#include "lib/form/lay_out.hpp"

#include <algorithm>

#include "lib/form/grid.hpp"
#include "lib/form/marker.hpp"
#include "lib/form/missing.hpp"
#include "lib/form/row_piece.hpp"
#include "lib/sheets/book/render.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::Look;
using sheets::Range;
using sheets::Sheet;
using sheets::Shown;

constexpr int title_row = 0, about_row = 1, heading_row = 2, explanation_row = 3, first_row = 4;
constexpr int empty_rows = 24;     // with a frame, below those that are filled in
constexpr int watched_rows = 200;  // more rows that lists and colours reach
constexpr double missing_width = 26;

bool is_number(Type type) {
  return type == Type::hours || type == Type::amount || type == Type::whole || type == Type::percent ||
         type == Type::real;
}

Look look_of(Type type) {
  if (type == Type::tick) return Look::tick;
  return type == Type::money || type == Type::day || is_number(type) ? Look::input : Look::typed;
}

Shown shown_for(Type type) {
  return type == Type::money ? Shown::money : type == Type::day ? Shown::date : Shown::text;
}

/// Where the names of a sheet of entries stand: column C from the first row on.
Range names_range(const Filled& filled, std::size_t number) {
  return {first_row, 2,
          first_row + static_cast<int>(filled.sheets[number].size()) + empty_rows + watched_rows, 2};
}

std::map<std::string_view, std::string> name_ranges(const Filled& filled) {
  std::map<std::string_view, std::string> ranges;
  for (std::size_t s = 0; s < all_sheets().size(); ++s)
    if (all_sheets()[s].kind == Kind::entries)
      ranges[all_sheets()[s].name] =
          sheets::absolute(std::string(all_sheets()[s].name), names_range(filled, s));
  return ranges;
}

/// The names as a list to pick from, without the empty cells below them.
std::string list_source(const std::string& sheet, const Range& names) {
  const std::string range = sheets::absolute(sheet, names);
  const std::string top = range.substr(0, range.find(':'));
  return fmt::format("=OFFSET({},0,0,MAX(1,COUNTA({})),1)", top, range);
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
    if (std::holds_alternative<std::monostate>(value))
      return sheet_.await(row, at, shown_for(column.type), look_of(column.type));
    const bool text = std::holds_alternative<std::string>(value);
    sheet_.put(row, at, value, text && column.type != Type::tick ? Look::typed : look_of(column.type));
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
    if (!column.from.empty()) rule.source = source_of(column.from);
    rule.others = column.type == Type::many || column.type == Type::one_or_word;
    if (!rule.words.empty() || !rule.source.empty()) sheet_.entries.push_back(std::move(rule));
  }

  std::string source_of(std::string_view sheet) const {
    for (std::size_t s = 0; s < all_sheets().size(); ++s) {
      const SheetSpec& other = all_sheets()[s];
      if (other.name == sheet && other.kind == Kind::entries)
        return list_source(std::string(sheet), names_range(filled_, s));
    }
    return "";  // short names of steps: too many to pick from
  }

  const Filled& filled_;
  const SheetSpec& spec_;
  const std::vector<FormRow>& rows_;
  int digits_;
  Ground ground_;
  int last_ = 0;
  Sheet sheet_;
};

/// A sheet of single fields.
class FieldSheet {
 public:
  FieldSheet(const Filled& filled, std::size_t number, int)
      : filled_(filled),
        spec_(all_sheets()[number]),
        rows_(filled.sheets[number]),
        sheet_(std::string(spec_.name)) {}

  Sheet make() {
    const double wide = spec_.columns.front().width;
    sheet_.columns = {{6, 6, true}, {32, 32}, {wide, wide}, {12, 12}, {24, 24}, {50, 50}};
    sheet_.header_row = heading_row;
    sheet_.open = sheet_.landscape = true;
    sheet_.put(title_row, 1, std::string(spec_.name), Look::title);
    sheet_.put(about_row, 1, std::string(spec_.about), Look::note);
    int at = 0;
    for (const std::string_view heading :
         {std::string_view(key_heading), std::string_view("What"), std::string_view("Yours"), missing_heading,
          std::string_view("Example"), std::string_view("What it means")})
      sheet_.put(heading_row, at++, std::string(heading), Look::header);
    for (std::size_t c = 0; c < spec_.columns.size(); ++c) put(static_cast<int>(c), spec_.columns[c]);
    return std::move(sheet_);
  }

 private:
  void put(int number, const Column& column) {
    const int row = heading_row + 1 + number;
    sheet_.put(row, 0, std::string(column.key), Look::hint);
    sheet_.put(row, 1, std::string(column.heading), column.required ? Look::strong : Look::body);
    put_value(row, column);
    put_missing(row, column);
    sheet_.put(row, 4, std::string(column.example), Look::hint);
    sheet_.put(row, 5, (column.required ? "Needed. " : "") + std::string(column.explanation), Look::hint);
    if (column.type == Type::tick) sheet_.entries.push_back({{row, 2, row, 2}, sheets::Entry::tick, 0});
    sheets::EntryRule rule{{row, 2, row, 2}, sheets::Entry::pick, 0};
    if (column.type == Type::choice) rule.words = split_words(column.choices);
    for (std::size_t s = 0; s < all_sheets().size(); ++s)
      if (all_sheets()[s].name == column.from)
        rule.source = list_source(std::string(column.from), names_range(filled_, s));
    if (!rule.words.empty() || !rule.source.empty()) sheet_.entries.push_back(std::move(rule));
  }

  void put_value(int row, const Column& column) {
    sheets::Value value;
    if (!rows_.empty())
      if (const auto found = rows_[0].values.find(column.heading); found != rows_[0].values.end())
        value = found->second;
    if (std::holds_alternative<std::monostate>(value))
      return sheet_.await(row, 2, shown_for(column.type), look_of(column.type));
    const bool text = std::holds_alternative<std::string>(value);
    sheet_.put(row, 2, value, text && column.type != Type::tick ? Look::typed : look_of(column.type));
  }

  void put_missing(int row, const Column& column) {
    if (!column.required) return sheet_.put(row, 3, std::string(), Look::hint);
    const std::string cell = sheets::reference(row, 2);
    const int last = heading_row + static_cast<int>(spec_.columns.size());
    const std::string any =
        spec_.needed ? "TRUE" : fmt::format("COUNTA($C${}:$C${})>0", heading_row + 2, last + 1);
    const bool lacks = spec_.needed && rows_.empty();
    sheet_.compute(row, 3, fmt::format("IF(AND({},{}=\"\"),\"missing\",\"\")", any, cell),
                   std::string(lacks ? "missing" : ""), Look::hint);
    sheet_.highlights.push_back(
        {{row, 2, row, 2}, fmt::format("AND({},{}=\"\")", any, cell), sheets::Tone::warning});
  }

  const Filled& filled_;
  const SheetSpec& spec_;
  const std::vector<FormRow>& rows_;
  Sheet sheet_;
};

Sheet guide() {
  Sheet sheet{std::string(guide_sheet)};
  sheet.columns = {{24, 24}, {90, 90}};
  sheet.open = true;
  sheet.put(0, 0, std::string("How to fill in this form"), Look::title);
  const std::pair<const char*, std::string> lines[] = {
      {"Names only",
       "Give everything a name, and use that name on the other sheets. A cell offers the names there are."},
      {"Yellow cells", "are for typing. Start with Build, Things and Jobs; the other sheets can stay empty."},
      {"Missing", "A cell that a row still needs turns red, and the last column says it in words."},
      {"Examples",
       "A sheet without rows begins with one example in grey. It does not count: overwrite it, or delete it. "
       "All of it is invented."},
      {"Amounts",
       "as plain numbers; 12.50 or 12,50, as your spreadsheet writes them. Days as dates, or like "
       "2027-03-05. Hours as decimal numbers."},
      {"Several names", "in one cell have semicolons between them."},
      {"Rows",
       "can be moved, sorted, hidden, inserted and deleted. Order of rows is order on the plan's sheets."},
      {"Then",
       "fettlefund check NAME.xlsx tells what is wrong, by sheet and cell; fettlefund plan NAME.xlsx plans "
       "it."},
      {"Care",
       "The form invents no torque, clearance or wear limit: those are yours, from the maker's manual."}};
  int row = 2;
  for (const auto& [what, text] : lines) {
    sheet.put(row, 0, std::string(what), Look::strong);
    sheet.put(row++, 1, text);
  }
  ++row;
  sheet.put(row++, 0, std::string("Sheets"), Look::title);
  for (const SheetSpec& spec : all_sheets()) {
    sheet.put(row, 0, std::string(spec.name), Look::body);
    sheet.put(row, 1, std::string(spec.about));
    sheet.link(row++, 0, std::string(spec.name), 0);
  }
  return sheet;
}

Sheet marker() {
  Sheet sheet{std::string(marker_sheet)};
  sheet.hidden = true;
  sheet.columns = {{20, 20}, {6, 6}};
  sheet.put(0, 0, std::string(marker_word));
  sheet.put(0, 1, std::int64_t{form_version});
  return sheet;
}

}  // namespace

sheets::Book lay_out(const Filled& filled, const std::string& title, int digits) {
  sheets::Book book;
  book.title = title;
  book.digits = digits;
  book.sheets.push_back(guide());
  const auto names = name_ranges(filled);
  for (std::size_t s = 0; s < all_sheets().size(); ++s)
    book.sheets.push_back(all_sheets()[s].kind == Kind::fields ? FieldSheet(filled, s, digits).make()
                                                               : Table(filled, s, names, digits).make());
  book.sheets.push_back(marker());
  return book;
}

}  // namespace fettlefund::form
