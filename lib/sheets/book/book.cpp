#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "lib/sheets/book/render.hpp"
#include "lib/sheets/book/words.hpp"
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
  if (!note.empty()) sheet.put(1, 0, note, Look::note);
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
  constexpr double kAcross[] = {105, 149}, kDown[] = {750, 505};  // A4 upright and landscape, at full size
  return kDown[sheet.landscape] * std::max(1.0, sheet.printed_width() / kAcross[sheet.landscape]);
}

void share_page(Sheet& sheet, const std::vector<Share>& shares) {
  constexpr double kPage = 119;  // characters across an upright page of A4 in type of 9 points and more
  if (sheet.printed_columns == 0) sheet.printed_columns = static_cast<int>(sheet.columns.size());
  double rest = kPage - sheet.printed_width();
  for (const Share& share : shares) rest += sheet.width(share.column);
  for (const Share& share : shares) {
    Column& column = sheet.columns[static_cast<std::size_t>(share.column)];
    column.least = column.most = std::max(column.least, rest * share.part);
  }
}

void fit_lines(Sheet& sheet, int column, int lines, double most) {
  Column& limits = sheet.columns[static_cast<std::size_t>(column)];
  double width = limits.least;
  for (const auto& [place, cell] : sheet.cells) {
    const auto* text = std::get_if<std::string>(&cell.value);
    if (place.second != column || text == nullptr || cell.style.look != Look::body) continue;
    while (width < most && wrapped_lines(*text, width) > lines) width += 0.25;
  }
  limits.least = limits.most = std::min(width, most);
}

void put_note(Sheet& sheet, const std::string& note) {
  sheet.spread(1, 0, sheet.printed_columns, note, Look::prose);
}

namespace {

/// A page less full than this goes on with the next block, though it does not end there.
constexpr double kFullEnough = 0.75;

/// A last page less full than the first of these begins earlier, so that it is as full as the second.
constexpr double kLittle = 0.25, kSomething = 0.35;

/// Where pages begin, by the heights of the rows.
class Paging {
 public:
  explicit Paging(const Sheet& sheet)
      : sheet_(sheet), heights_(sheet.row_heights()), page_(page_points(sheet)) {}

  double page() const { return page_; }

  /// Of a page behind the first, on which the header stands again.
  double later_page() const {
    return sheet_.repeat_header ? page_ - points(sheet_.header_row, sheet_.header_row + 1) : page_;
  }

  double points(int from, int to) const {
    double sum = 0;
    for (int row = from; row < to; ++row) sum += heights_.count(row) != 0 ? heights_.at(row) : 15;
    return sum;
  }

  /// The first row of each page. The last ends above `end_row`.
  std::vector<int> starts(int end_row) const {
    std::vector<int> starts{0};
    double used = 0;
    for (int row = 0; row < end_row; ++row) {
      const double height = points(row, row + 1);
      const auto& breaks = sheet_.page_breaks;
      const bool asked = std::find(breaks.begin(), breaks.end(), row) != breaks.end();
      if (asked || used + height > (starts.size() == 1 ? page_ : later_page())) {
        if (row > 0) starts.push_back(row);
        used = 0;
      }
      used += height;
    }
    return starts;
  }

 private:
  const Sheet& sheet_;
  std::map<int, double> heights_;
  double page_;
};

bool begins_block(const Sheet& sheet, int row) {
  const Cell* first = sheet.find(row, 0);
  return first != nullptr && first->style.look == Look::band;
}

/// Not within the chart; at a band where one stands a few rows above; else not at a row that belongs to the
/// one above it, whose first cell is empty.
int fit_to_begin(const Sheet& sheet, int row) {
  constexpr int kFew = 12;
  const auto& chart = sheet.chart;
  if (chart && row > chart->row && row <= chart->last_row()) return chart->row;
  for (int band = row; band > row - kFew; --band)
    if (begins_block(sheet, band)) return band;
  while (row > sheet.header_row + 1 && sheet.find(row, 0) == nullptr) --row;
  return row;
}

}  // namespace

void keep_together(Sheet& sheet, const std::vector<int>& blocks, int end_row) {
  const Paging paging(sheet);
  const double page = paging.page() - paging.points(kHeaderRow, kHeaderRow + 1);
  double used = paging.points(0, kHeaderRow);
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const double block = paging.points(blocks[i], i + 1 < blocks.size() ? blocks[i + 1] : end_row);
    if (i > 0 && used + block > page && used > kFullEnough * page) {
      sheet.page_breaks.push_back(blocks[i]);
      used = 0;
    }
    used = std::fmod(used + block, page);
  }
}

void share_last_page(Sheet& sheet, int end_row) {
  const Paging paging(sheet);
  const std::vector<int> starts = paging.starts(end_row);
  if (starts.size() < 2 || paging.points(starts.back(), end_row) >= kLittle * paging.page()) return;
  int row = starts.back();
  while (row > starts[starts.size() - 2] + 1 && paging.points(row, end_row) < kSomething * paging.page())
    --row;
  std::erase(sheet.page_breaks, starts.back());
  sheet.page_breaks.push_back(fit_to_begin(sheet, row));
}

int lines_left(const Sheet& sheet, int end_row) {
  const Paging paging(sheet);
  const std::vector<int> starts = paging.starts(end_row);
  const double page = starts.size() == 1 ? paging.page() : paging.later_page();
  return static_cast<int>((page - paging.points(starts.back(), end_row)) / 15);
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
