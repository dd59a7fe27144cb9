#include "lib/sheets/record/plan_record.hpp"

#include <cctype>

#include "lib/build/fingerprint.hpp"
#include "lib/sheets/book/formula_shape.hpp"
#include "lib/sheets/book/text_guard.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/record/plan_record_layout.hpp"

namespace fettlefund::sheets {

namespace {

using namespace record_layout;

bool is_input(const Cell& cell) { return cell.style.look == Look::input || cell.style.look == Look::tick; }

char letter_of(const Cell& cell) {
  if (cell.style.look == Look::header || cell.style.look == Look::header_right) return '#';
  if (!cell.formula.empty()) return 'f';
  const auto* text = std::get_if<std::string>(&cell.value);
  const char letter = text != nullptr && text->empty() ? 'e' : "esmdnhpq"[cell.value.index()];
  return is_input(cell) ? static_cast<char>(std::toupper(letter)) : letter;
}

struct Plain {
  std::string operator()(std::monostate) const { return ""; }
  std::string operator()(const std::string& text) const { return without_controls(text); }
  std::string operator()(Money amount) const { return std::to_string(amount.minor()); }
  std::string operator()(Date day) const { return budgets::write_date(day); }
  std::string operator()(std::int64_t number) const { return std::to_string(number); }
  std::string operator()(Minutes minutes) const { return std::to_string(minutes.count); }
  std::string operator()(BasisPoints points) const { return std::to_string(points.count); }
  std::string operator()(Decimal decimal) const {
    return std::to_string(decimal.units) + ":" + std::to_string(decimal.digits);
  }
};

int key_column(const Sheet& sheet) {
  for (const auto& [place, cell] : sheet.cells) {
    const auto* text = std::get_if<std::string>(&cell.value);
    if (place.first == sheet.header_row && text != nullptr && *text == "Key") return place.second;
  }
  return -1;
}

void copy_rows(PlanRecord& record, const Sheet& sheet) {
  const int keys = key_column(sheet);
  int row = -1;
  for (const auto& [place, cell] : sheet.cells) {
    if (place.first != row) record.rows.push_back({sheet.name, "", place.first, "", {}});
    row = place.first;
    RecordedRow& to = record.rows.back();
    to.marks.resize(static_cast<std::size_t>(place.second), '.');
    to.values.resize(static_cast<std::size_t>(place.second));
    to.marks += letter_of(cell);
    to.values.push_back(cell.formula.empty() ? std::visit(Plain{}, cell.value) : formula_shape(cell.formula));
    if (place.second == keys && cell.style.look == Look::note) to.key = to.values.back();
  }
}

void put(Sheet& sheet, int row, int column, const std::string& text) {
  sheet.put(row, column, text, Look::note);
}

void put_row(Sheet& sheet, int at, const RecordedRow& row) {
  put(sheet, at, sheet_name, row.sheet);
  put(sheet, at, key, row.key);
  sheet.put(at, row_number, static_cast<std::int64_t>(row.row + 1), Look::note);
  put(sheet, at, marks, row.marks);
  for (std::size_t i = 0; i < row.values.size(); ++i)
    if (!row.values[i].empty()) put(sheet, at, first_value + static_cast<int>(i), row.values[i]);
}

void put_head(Sheet& sheet, const PlanRecord& record) {
  put(sheet, 0, 0, "What was written, so that the workbook can be read back. Leave as is.");
  const std::pair<const char*, std::string> facts[] = {{format_label, format},
                                                       {build_label, without_controls(record.build)},
                                                       {currency_label, record.currency},
                                                       {plan_label, plan_fingerprint(record)},
                                                       {file_label, record.build_fingerprint},
                                                       {log_label, record.log_id},
                                                       {entries_label, std::to_string(record.log_entries)}};
  int row = 1;
  for (const auto& [label, value] : facts) {
    put(sheet, row, 0, label);
    put(sheet, row++, 1, value);
  }
  const char* headings[] = {rows_label, "key", "row", "marks", "cells"};
  for (int c = 0; c < 5; ++c) put(sheet, row, c, headings[c]);
}

}  // namespace

std::string plan_fingerprint(const PlanRecord& record) {
  build::Fingerprint print;
  for (const std::string& text : {record.build, record.build_fingerprint, record.currency, record.log_id,
                                  std::to_string(record.log_entries)})
    print.add(text);
  for (const RecordedRow& row : record.rows) {
    for (const std::string& text : {row.sheet, row.key, std::to_string(row.row), row.marks}) print.add(text);
    for (const std::string& value : row.values) print.add(value);
  }
  return print.write();
}

void add_plan_record(Book& book, const Outcome& outcome) {
  const build::Build& build = *outcome.build;
  PlanRecord record{without_controls(build.name),
                    build.fingerprint,
                    std::string(build.currency.code),
                    build.log_id,
                    static_cast<std::int64_t>(build.log_entries),
                    {}};
  for (const Sheet& sheet : book.sheets) copy_rows(record, sheet);
  Sheet sheet(kPlanRecord);
  sheet.hidden = true;
  sheet.columns = {{18, 18}, {30, 60}, {8, 8}, {14, 20}};
  put_head(sheet, record);
  int at = first_row;
  for (const RecordedRow& row : record.rows) put_row(sheet, at++, row);
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
