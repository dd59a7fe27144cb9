#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "lib/sheets/book/render.hpp"
#include "lib/sheets/book/workbook.hpp"
#include "lib/sheets/pages/past_ticks.hpp"

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

double page_points(const Sheet& sheet) {
  constexpr double kAcross[] = {98, 149}, kDown[] = {750, 505};  // A4 upright and landscape, at full size
  double width = 0;
  for (int c = 0; c < static_cast<int>(sheet.columns.size()); ++c)
    if (!sheet.columns[static_cast<std::size_t>(c)].hidden) width += sheet.width(c);
  return kDown[sheet.landscape] * std::max(1.0, width / kAcross[sheet.landscape]);
}

/// A page less full than this goes on with the next block, though it does not end there.
constexpr double kFullEnough = 0.6;

void keep_together(Sheet& sheet, const std::vector<int>& blocks, int end_row) {
  const auto heights = sheet.row_heights();
  const auto points = [&](int from, int to) {
    double sum = 0;
    for (int row = from; row < to; ++row) sum += heights.count(row) != 0 ? heights.at(row) : 15;
    return sum;
  };
  const double page = page_points(sheet) - points(kHeaderRow, kHeaderRow + 1);
  double used = points(0, kHeaderRow);
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const double block = points(blocks[i], i + 1 < blocks.size() ? blocks[i + 1] : end_row);
    if (i > 0 && used + block > page && used > kFullEnough * page) {
      sheet.page_breaks.push_back(blocks[i]);
      used = 0;
    }
    used = std::fmod(used + block, page);
  }
}

void name_rows(Book& book, const Sheet& sheet, const char* name, int column, int first_row, int last_row) {
  book.names.push_back({name, sheet.name, {first_row, column, last_row, column}});
}

std::string rounded(const Book& book, const std::string& inner) {
  return "ROUND(" + inner + "," + std::to_string(book.digits) + ")";
}

namespace {

Sheet& sheet_named(Book& book, const char* name) {
  const auto found = std::find_if(book.sheets.begin(), book.sheets.end(),
                                  [&](const Sheet& one) { return one.name == name; });
  if (found == book.sheets.end()) throw std::logic_error(std::string("no sheet ") + name);
  return *found;
}

/// From a stage on Overview to its shopping and its work, and from where it begins there back.
void link_stages(Book& book) {
  Sheet& overview = sheet_named(book, kOverview);
  const std::pair<const char*, int> places[] = {{kShopping, 0}, {kWorkOrder, 2}};
  for (const auto& [name, column] : places) {
    Sheet& sheet = sheet_named(book, name);
    for (const auto& [number, row] : sheet.stage_rows) {
      overview.link(overview.stage_rows.at(number), column, name, row);
      sheet.link(row, 0, kOverview, overview.stage_rows.at(number));
    }
  }
}

}  // namespace

Book make_book(const Outcome& outcome, const Past& past) {
  if (outcome.build == nullptr) throw std::logic_error("an outcome without its build");
  Book book;
  book.title = outcome.build->name;
  book.digits = outcome.build->currency.digits;
  add_overview(book, outcome, past);
  add_shopping(book, outcome, past);
  add_forgotten(book, outcome);
  add_jobs(book, outcome, past);
  add_work_order(book, outcome);
  add_while_off(book, outcome);
  add_tools(book, outcome);
  add_drive(book, outcome);
  add_suppliers(book, outcome, past);
  add_spending(book, outcome, past);
  add_history(book, outcome, past);
  add_notes(book, outcome);
  link_stages(book);
  tick_again(book, past);
  add_plan_record(book, outcome);
  return book;
}

void write_workbook(const planning::Outcome& outcome, const std::string& path, const planning::Past& past) {
  render(make_book(outcome, past), path);
}

}  // namespace fettlefund::sheets
