#include "lib/form/writing/field_sheet.hpp"

#include "lib/form/grid.hpp"
#include "lib/form/writing/cell_looks.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::Look;
using sheets::Sheet;

/// A sheet of single fields.
class FieldSheet {
 public:
  FieldSheet(const Filled& filled, std::size_t number)
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
    rule.source = list_source(filled_, column.from);
    if (!rule.words.empty() || !rule.source.empty()) sheet_.entries.push_back(std::move(rule));
  }

  void put_value(int row, const Column& column) {
    sheets::Value value;
    if (!rows_.empty())
      if (const auto found = rows_[0].values.find(column.heading); found != rows_[0].values.end())
        value = found->second;
    put_typed(sheet_, row, 2, column.type, value);
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

}  // namespace

Sheet field_sheet(const Filled& filled, std::size_t number) { return FieldSheet(filled, number).make(); }

}  // namespace fettlefund::form
