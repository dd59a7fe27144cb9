#include <stdexcept>

#include "lib/sheets/pages.hpp"
#include "lib/sheets/render.hpp"
#include "lib/sheets/workbook.hpp"

namespace fettlefund::sheets {

Sheet begin_sheet(const std::string& name, const std::string& title, const std::string& note,
                  const std::vector<Heading>& headings) {
  Sheet sheet(name);
  sheet.header_row = kHeaderRow;
  for (const Heading& heading : headings)
    sheet.columns.push_back({heading.least, heading.most, heading.kind == Heading::hidden});
  sheet.put(0, 0, title, Look::title);
  sheet.put(1, 0, note, Look::note);
  const auto heading_of = [&](int c) { return headings[static_cast<std::size_t>(c)]; };
  for (int c = 0; c < static_cast<int>(headings.size()); ++c)
    sheet.put(kHeaderRow, c, heading_of(c).name,
              heading_of(c).kind == Heading::figures ? Look::header_right : Look::header);
  return sheet;
}

void put_band(Sheet& sheet, int row, int columns, const std::string& text) {
  sheet.put(row, 0, text, Look::band);
  for (int c = 1; c < columns; ++c)
    if (sheet.find(row, c) == nullptr) sheet.await(row, c, Shown::text, Look::band);
}

void name_rows(Book& book, const Sheet& sheet, const char* name, int column, int first_row, int last_row) {
  book.names.push_back({name, sheet.name, {first_row, column, last_row, column}});
}

std::string rounded(const Book& book, const std::string& inner) {
  return "ROUND(" + inner + "," + std::to_string(book.digits) + ")";
}

Book make_book(const Outcome& outcome) {
  if (outcome.build == nullptr) throw std::logic_error("an outcome without its build");
  Book book;
  book.title = outcome.build->name;
  book.digits = outcome.build->currency.digits;
  add_overview(book, outcome);
  add_shopping(book, outcome);
  add_forgotten(book, outcome);
  add_work_order(book, outcome);
  add_while_off(book, outcome);
  add_tools(book, outcome);
  add_suppliers(book, outcome);
  add_notes(book, outcome);
  add_plan_record(book, outcome);
  return book;
}

void write_workbook(const planning::Outcome& outcome, const std::string& path) {
  render(make_book(outcome), path);
}

}  // namespace fettlefund::sheets
