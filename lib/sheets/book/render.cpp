#include "lib/sheets/book/render.hpp"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <memory>
#include <set>
#include <stdexcept>

#include "lib/sheets/book/looks.hpp"
#include "lib/sheets/book/text_guard.hpp"
#include "lib/sheets/read_back/entry_rules.hpp"
#include "lib/text/ascii.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>
#include <xlsxwriter.h>

namespace fettlefund::sheets {

namespace {

constexpr std::int64_t kMostDigits = 1'000'000'000'000'000;  // doubles hold any 15 decimal digits
constexpr time_t kCreated = 946'684'800;  // 2000-01-01: a fixed date, so that equal plans give equal bytes
constexpr std::size_t kLongestFormula = 8192;
constexpr double kWidestPage = 220;  // characters that can be read on A4 across

void expect(lxw_error answer, const std::string& what) {
  if (answer != LXW_NO_ERROR)
    throw std::runtime_error(fmt::format("cannot write {}: {}", what, lxw_strerror(answer)));
}

/// The C interface takes texts as `char*` in its option records; it copies them and does not change them.
char* lend(const std::string& text) { return const_cast<char*>(text.c_str()); }

struct Free {
  void operator()(lxw_workbook* workbook) const { lxw_workbook_free(workbook); }
};
using Workbook = std::unique_ptr<lxw_workbook, Free>;

double scale_of(int digits) {
  double scale = 1;
  for (int i = 0; i < digits; ++i) scale *= 10;
  return scale;
}

std::string range_of(const std::string& sheet, const Range& range) {
  return fmt::format("={}", absolute(sheet, range));
}

/// One sheet of the open workbook.
class Page {
 public:
  Page(lxw_workbook* workbook, const Sheet& sheet, const Book& book, Looks& looks)
      : workbook_(workbook), sheet_(sheet), book_(book), looks_(looks) {
    expect(workbook_validate_sheet_name(workbook, sheet.name.c_str()), "sheet \"" + sheet.name + "\"");
    page_ = workbook_add_worksheet(workbook, sheet.name.c_str());
    if (page_ == nullptr) throw std::runtime_error("cannot add sheet \"" + sheet.name + "\"");
  }

  void fill() {
    set_columns();
    for (const auto& [row, points] : sheet_.row_heights())
      expect(worksheet_set_row(page_, row_of(row), points, nullptr), sheet_.name);
    for (const auto& [place, cell] : sheet_.cells) write(place.first, place.second, cell);
    for (const EntryRule& rule : sheet_.entries) add(rule);
    for (const Highlight& highlight : sheet_.highlights) add(highlight);
    if (sheet_.chart) add(*sheet_.chart);
    set_print();
    set_view();
  }

 private:
  static lxw_row_t row_of(int row) { return static_cast<lxw_row_t>(row); }
  static lxw_col_t column_of(int column) { return static_cast<lxw_col_t>(column); }
  std::string name_of(int row, int column) const { return sheet_.name + " " + reference(row, column); }

  void set_columns() {
    for (int c = 0; c < static_cast<int>(sheet_.columns.size()); ++c) {
      lxw_row_col_options options{};
      options.hidden = sheet_.columns[static_cast<std::size_t>(c)].hidden;
      expect(worksheet_set_column_opt(page_, column_of(c), column_of(c), sheet_.width(c), nullptr, &options),
             sheet_.name);
    }
  }

  void write(int row, int column, const Cell& cell) {
    lxw_format* look = looks_.of(cell.style);
    if (!cell.link.empty()) write_link(row, column, cell, look);
    if (cell.columns > 1) return write_merged(row, column, cell, look);
    if (!cell.formula.empty()) return write_formula(row, column, cell, look);
    const std::string where = name_of(row, column);
    const auto* text = std::get_if<std::string>(&cell.value);
    if (std::holds_alternative<std::monostate>(cell.value) || (text != nullptr && text->empty()))
      expect(worksheet_write_blank(page_, row_of(row), column_of(column), look), where);
    else if (text != nullptr)
      expect(worksheet_write_string(page_, row_of(row), column_of(column), cell_text(*text, where).c_str(),
                                    look),
             where);
    else
      expect(worksheet_write_number(page_, row_of(row), column_of(column),
                                    stored_number(cell.value, book_.digits), look),
             where);
  }

  /// The cell itself is written over it; the link stays.
  void write_link(int row, int column, const Cell& cell, lxw_format* look) {
    expect(
        worksheet_write_url(page_, row_of(row), column_of(column), ("internal:" + cell.link).c_str(), look),
        name_of(row, column));
  }

  void write_merged(int row, int column, const Cell& cell, lxw_format* look) {
    const std::string where = name_of(row, column);
    const std::string text = cell_text(std::get<std::string>(cell.value), where);
    expect(worksheet_merge_range(page_, row_of(row), column_of(column), row_of(row),
                                 column_of(column + cell.columns - 1), text.c_str(), look),
           where);
  }

  void write_formula(int row, int column, const Cell& cell, lxw_format* look) {
    const std::string where = name_of(row, column);
    if (cell.formula.front() != '=' || cell.formula.size() > kLongestFormula)
      throw std::logic_error("no formula: " + where);
    if (const auto* text = std::get_if<std::string>(&cell.value))
      return expect(worksheet_write_formula_str(page_, row_of(row), column_of(column), cell.formula.c_str(),
                                                look, cell_text(*text, where).c_str()),
                    where);
    expect(worksheet_write_formula_num(page_, row_of(row), column_of(column), cell.formula.c_str(), look,
                                       stored_number(cell.value, book_.digits)),
           where);
  }

  void add(const EntryRule& rule) {
    expect(static_cast<lxw_error>(add_entry_rule(page_, rule)), sheet_.name + " " + reference(rule.range));
  }

  void add(const Highlight& highlight) {
    lxw_conditional_format condition{};
    condition.type = LXW_CONDITIONAL_TYPE_FORMULA;
    condition.value_string = lend(highlight.formula);
    condition.format = looks_.of(highlight.tone);
    const Range& r = highlight.range;
    expect(worksheet_conditional_format_range(page_, row_of(r.first_row), column_of(r.first_column),
                                              row_of(r.last_row), column_of(r.last_column), &condition),
           sheet_.name + " " + reference(r));
  }

  void add(const Chart& chart) {
    const bool lines = chart.kind == Chart::Kind::lines;
    lxw_chart* drawn = workbook_add_chart(workbook_, lines ? LXW_CHART_LINE : LXW_CHART_COLUMN_STACKED);
    if (drawn == nullptr) throw std::runtime_error("cannot add a chart to " + sheet_.name);
    chart_title_set_name(drawn, chart.title.c_str());
    chart_axis_set_name(drawn->x_axis, chart.across.c_str());
    chart_axis_set_name(drawn->y_axis, chart.up.c_str());
    chart_axis_set_num_format(drawn->y_axis, "#,##0");
    set_type(drawn);
    if (chart.dated) chart_axis_set_num_format(drawn->x_axis, "yyyy-mm-dd");
    chart_legend_set_position(drawn, LXW_CHART_LEGEND_BOTTOM);
    for (std::size_t i = 0; i < chart.curves.size(); ++i) {
      lxw_chart_series* series = add(drawn, chart, chart.curves[i]);
      if (lines)
        draw_line(series, chart.curves[i].limit);
      else
        looks_.fill_column(series, i);
    }
    lxw_chart_options options{};
    options.x_scale = chart.width_px / 480.0;  // the size an unscaled chart has
    options.y_scale = chart.height_px / 288.0;
    options.description = lend(chart.description);
    expect(worksheet_insert_chart_opt(page_, row_of(chart.row), column_of(chart.column), drawn, &options),
           sheet_.name);
  }

  /// As large as the cells, so that it can be read where the sheet is printed.
  static void set_type(lxw_chart* drawn) {
    lxw_chart_font font{};
    font.size = 11;
    for (lxw_chart_axis* axis : {drawn->x_axis, drawn->y_axis}) {
      chart_axis_set_num_font(axis, &font);
      chart_axis_set_name_font(axis, &font);
    }
    chart_legend_set_font(drawn, &font);
  }

  lxw_chart_series* add(lxw_chart* drawn, const Chart& chart, const Curve& curve) {
    lxw_chart_series* series = chart_add_series(drawn, range_of(sheet_.name, chart.categories).c_str(),
                                                range_of(sheet_.name, curve.values).c_str());
    if (series == nullptr) throw std::runtime_error("cannot draw a curve on " + sheet_.name);
    chart_series_set_name(series, curve.name.c_str());
    return series;
  }

  void draw_line(lxw_chart_series* series, bool limit) {
    lxw_chart_line line{};
    line.color = limit ? Looks::kVermilion : Looks::kBlue;
    line.width = 2.25;
    line.dash_type = limit ? LXW_CHART_LINE_DASH_DASH : LXW_CHART_LINE_DASH_SOLID;
    chart_series_set_line(series, &line);
    chart_series_set_marker_type(series, limit ? LXW_CHART_MARKER_NONE : LXW_CHART_MARKER_CIRCLE);
    lxw_chart_fill fill{};
    fill.color = line.color;
    if (!limit) chart_series_set_marker_fill(series, &fill);
  }

  void set_print() {
    worksheet_set_paper(page_, 9);  // A4
    if (sheet_.landscape) worksheet_set_landscape(page_);
    worksheet_fit_to_pages(page_, static_cast<std::uint16_t>(pages_wide()), 0);
    const double side = sheet_.printed_columns > 0 ? 0.3 : 0.4;
    worksheet_set_margins(page_, side, side, 0.5, 0.7);
    if (sheet_.printed_columns > 0)
      expect(worksheet_print_area(page_, 0, 0, row_of(last_row()), column_of(sheet_.printed_columns - 1)),
             sheet_.name);
    expect(worksheet_set_footer(page_, footer().c_str()), sheet_.name);
    if (sheet_.header_row >= 0 && sheet_.repeat_header)
      expect(worksheet_repeat_rows(page_, row_of(sheet_.header_row - sheet_.header_rows + 1),
                                   row_of(sheet_.header_row)),
             sheet_.name);
    std::vector<lxw_row_t> breaks(sheet_.page_breaks.begin(), sheet_.page_breaks.end());
    breaks.push_back(0);
    if (breaks.size() > 1) expect(worksheet_set_h_pagebreaks(page_, breaks.data()), sheet_.name);
  }

  /// Of cells or of the chart.
  int last_row() const {
    const int cells = sheet_.cells.empty() ? 0 : sheet_.cells.rbegin()->first.first;
    if (!sheet_.chart) return cells;
    return std::max(cells, sheet_.chart->last_row());
  }

  /// A page across, or two where one would be too small to read: the frozen columns then stand on both.
  int pages_wide() {
    if (sheet_.frozen_columns == 0 || sheet_.printed_width() < kWidestPage) return 1;
    expect(worksheet_repeat_columns(page_, 0, column_of(sheet_.frozen_columns - 1)), sheet_.name);
    return 2;
  }

  /// "&" starts a code in a footer; doubled, it is itself.
  std::string footer() const {
    const std::string whole = cell_text(book_.title, "the footer");
    std::string title;
    for (const char c : whole.substr(0, text::whole_characters(whole, 100)))
      title += c == '&' ? "&&" : c == '\n' || c == '\t' ? " " : std::string(1, c);
    return "&L" + title + "&C" + sheet_.name + "&RPage &P of &N";
  }

  void set_view() {
    worksheet_gridlines(page_, LXW_HIDE_ALL_GRIDLINES);
    if (sheet_.header_row >= 0)
      worksheet_freeze_panes(page_, row_of(sheet_.header_row + 1), column_of(sheet_.frozen_columns));
    if (sheet_.hidden) worksheet_hide(page_);
    if (sheet_.filter_rows > 0)
      expect(worksheet_autofilter(page_, row_of(sheet_.header_row), 0,
                                  row_of(sheet_.header_row + sheet_.filter_rows),
                                  column_of(static_cast<int>(sheet_.columns.size()) - 1)),
             sheet_.name);
    if (sheet_.open) return;
    lxw_protection allowed{};
    allowed.format_columns = allowed.format_rows = allowed.objects = 1;  // objects: comments
    allowed.sort = allowed.autofilter = 1;
    worksheet_protect(page_, nullptr, &allowed);
  }

  lxw_workbook* workbook_;
  const Sheet& sheet_;
  const Book& book_;
  Looks& looks_;
  lxw_worksheet* page_ = nullptr;
};

/// The library takes a second sheet or name that differs in letter case only, and spreadsheets then refuse
/// the file.
void check_names(const Book& book) {
  std::set<std::string> seen;
  for (const Sheet& sheet : book.sheets)
    if (!seen.insert(text::lower(sheet.name)).second)
      throw std::logic_error("two sheets named " + sheet.name);
  seen.clear();
  for (const Name& name : book.names) {
    check_range_name(name.name);
    if (!seen.insert(text::lower(name.name)).second) throw std::logic_error("two ranges named " + name.name);
  }
}

void set_properties(lxw_workbook* workbook, const Book& book) {
  std::string title = cell_text(book.title, "the title");
  title.resize(text::whole_characters(title, 200));
  lxw_doc_properties properties{};
  properties.title = lend(title);
  properties.created = kCreated;
  expect(workbook_set_properties(workbook, &properties), "the title");
}

/// The library reports a file it cannot open only at the end, and on standard error as well: look first.
void check_writable(const std::string& path) {
  if (!std::ofstream(path, std::ios::app)) throw std::runtime_error("cannot write the file " + path);
}

}  // namespace

double stored_number(const Value& value, int digits) {
  if (const auto* amount = std::get_if<Money>(&value)) {
    if (amount->minor() >= kMostDigits || amount->minor() <= -kMostDigits)
      throw std::runtime_error("an amount has more than 15 digits: too large for a spreadsheet");
    return static_cast<double>(amount->minor()) / scale_of(digits);
  }
  if (const auto* day = std::get_if<Date>(&value))
    return static_cast<double>(budgets::spreadsheet_serial(*day));
  if (const auto* count = std::get_if<std::int64_t>(&value)) return static_cast<double>(*count);
  if (const auto* minutes = std::get_if<Minutes>(&value)) return static_cast<double>(minutes->count) / 60;
  if (const auto* points = std::get_if<BasisPoints>(&value)) return static_cast<double>(points->count) / 100;
  if (const auto* decimal = std::get_if<Decimal>(&value))
    return static_cast<double>(decimal->units) / scale_of(decimal->digits);
  throw std::logic_error("not a figure");
}

void render(const Book& book, const std::string& path) {
  check_names(book);
  check_writable(path);
  Workbook workbook(workbook_new(path.c_str()));
  if (!workbook) throw std::runtime_error("out of memory while opening the workbook");
  set_properties(workbook.get(), book);
  Looks looks(workbook.get(), book.digits);
  for (const Sheet& sheet : book.sheets) Page(workbook.get(), sheet, book, looks).fill();
  for (const Name& name : book.names)
    expect(workbook_define_name(workbook.get(), name.name.c_str(), range_of(name.sheet, name.range).c_str()),
           "the name " + name.name);
  errno = 0;
  const lxw_error answer = workbook_close(workbook.release());
  if (answer != LXW_NO_ERROR && errno != 0)
    throw std::runtime_error(fmt::format("cannot write {}: {}", path, std::strerror(errno)));
  expect(answer, path);
}

}  // namespace fettlefund::sheets
