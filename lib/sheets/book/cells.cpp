#include "lib/sheets/book/cells.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "lib/sheets/book/words.hpp"

namespace fettlefund::sheets {

namespace {

constexpr double kLinePoints = 15;
constexpr double kTitlePoints = 24;
constexpr double kBold = 1.05;      // width of bold type against that of plain
constexpr double kEdges = 5.0 / 7;  // characters that a column has beside its width

/// Titles and bands run on over their empty neighbours, merged cells over their own; neither widens a column.
bool spills(const Cell& cell) {
  return cell.columns > 1 || cell.style.look == Look::title || cell.style.look == Look::note ||
         (cell.style.look == Look::band && cell.style.shown == Shown::text);
}

bool is_bold(const Cell& cell) {
  const Look look = cell.style.look;
  return look == Look::strong || look == Look::header || look == Look::header_right;
}

}  // namespace

Shown shown_of(const Value& value) {
  constexpr Shown by_digits[] = {Shown::count, Shown::tenths, Shown::hundredths, Shown::thousandths,
                                 Shown::finer};
  if (const auto* decimal = std::get_if<Decimal>(&value)) return by_digits[decimal->digits];
  constexpr Shown by_index[] = {Shown::text,  Shown::text,  Shown::money,  Shown::date,
                                Shown::count, Shown::hours, Shown::percent};
  return by_index[value.index()];
}

void Sheet::place(int row, int column, Cell cell) {
  if (!cells.emplace(std::pair(row, column), std::move(cell)).second)
    throw std::logic_error("two cells at " + reference(row, column) + " of " + name);
}

void Sheet::put(int row, int column, Value value, Look look) {
  const Shown shown = shown_of(value);
  place(row, column, Cell{std::move(value), {}, {look, shown}, 1, {}});
}

void Sheet::await(int row, int column, Shown shown, Look look) {
  place(row, column, Cell{std::monostate{}, {}, {look, shown}, 1, {}});
}

void Sheet::compute(int row, int column, std::string formula, Value cached, Look look) {
  const Shown shown = shown_of(cached);
  formula.insert(formula.begin(), '=');
  place(row, column, Cell{std::move(cached), std::move(formula), {look, shown}, 1, {}});
}

void Sheet::spread(int row, int column, int count, const std::string& text, Look look) {
  place(row, column, Cell{text, {}, {look, Shown::text}, count, {}});
  double room = -kEdges;
  for (int c = column; c < column + count; ++c) room += width(c) + kEdges;
  const double needed = kLinePoints * static_cast<double>(wrapped_lines(text, room));
  heights[row] = std::max(heights[row], needed);
}

const Cell* Sheet::find(int row, int column) const {
  const auto found = cells.find({row, column});
  return found == cells.end() ? nullptr : &found->second;
}

void Sheet::link(int row, int column, const std::string& sheet_name, int to_row) {
  const auto found = cells.find({row, column});
  if (found == cells.end()) throw std::logic_error("no cell to link at " + reference(row, column));
  Cell& cell = found->second;
  cell.link = "'" + sheet_name + "'!" + reference(to_row, 0);
  if (cell.style.look == Look::body || cell.style.look == Look::centred) cell.style.look = Look::linked;
}

double Sheet::width(int column) const {
  const Column limits =
      column < static_cast<int>(columns.size()) ? columns[static_cast<std::size_t>(column)] : Column{};
  double longest = limits.least;
  for (const auto& [place, cell] : cells)
    if (place.second == column && !spills(cell)) longest = std::max(longest, text_width(cell) + 2);
  return std::min(longest, limits.most);
}

double Sheet::printed_width() const {
  const auto all = static_cast<int>(columns.size());
  const int end = printed_columns > 0 ? std::min(printed_columns, all) : all;
  double sum = 0;
  for (int c = 0; c < end; ++c)
    if (!columns[static_cast<std::size_t>(c)].hidden) sum += width(c) + kEdges;
  return sum;
}

std::map<int, double> Sheet::row_heights() const {
  std::vector<double> widths;
  for (int c = 0; c < static_cast<int>(columns.size()); ++c) widths.push_back(width(c));
  std::map<int, double> points = heights;
  for (const auto& [place, cell] : cells) {
    const auto [row, column] = place;
    const auto* text = std::get_if<std::string>(&cell.value);
    if (cell.style.look == Look::title) points[row] = kTitlePoints;
    if (text == nullptr || spills(cell) || column >= static_cast<int>(widths.size())) continue;
    if (columns[static_cast<std::size_t>(column)].hidden) continue;
    const double room = widths[static_cast<std::size_t>(column)];
    const int lines = wrapped_lines(*text, is_bold(cell) ? room / kBold : room);
    if (lines > 1) points[row] = std::max(points[row], kLinePoints * lines);
  }
  return points;
}

}  // namespace fettlefund::sheets
