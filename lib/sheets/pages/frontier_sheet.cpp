#include "lib/sheets/pages/frontier_sheet.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/sheets/book/render.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

namespace fettlefund::sheets {
namespace {

using planning::FrontierChange;
using planning::FrontierReport;
using planning::FrontierRow;

enum Column { amount, worth, limit, jobs, finish, spent, left_over, count };
constexpr int kChartRows = 17;

Decimal months(std::int64_t want_days) { return {planning::want_month_tenths(want_days), 1}; }
Decimal months_at_most(std::int64_t want_days) { return {planning::want_month_tenths_at_most(want_days), 1}; }

class FrontierSheet {
 public:
  explicit FrontierSheet(const FrontierReport& frontier)
      : frontier_(frontier),
        sheet_(begin_sheet("Frontier", frontier.build->name + ": what the amount each payday makes of it",
                           "Amounts in " + std::string(frontier.build->currency.code),
                           {{"Amount", 10, 14, Heading::figures},
                            {"Want-months", 12, 14, Heading::figures},
                            {"No plan has more than", 12, 14, Heading::figures},
                            {"Jobs", 6, 8, Heading::figures},
                            {"Last job", 12, 14, Heading::figures},
                            {"Spent", 12, 16, Heading::figures},
                            {"Left", 12, 16, Heading::figures}})) {}

  Sheet make() {
    const int first = row_;
    for (const FrontierRow& row : frontier_.rows) add(row);
    add_chart(first, row_ - 1);
    add_changes();
    put_band(sheet_, row_++, count, "How to read this");
    for (const std::string& note : frontier_.notes) sheet_.spread(row_++, 0, count, note);
    return std::move(sheet_);
  }

 private:
  void add(const FrontierRow& row) {
    sheet_.put(row_, amount, row.amount, Look::figure);
    if (row.planned) {
      sheet_.put(row_, worth, months(row.value_want_days), Look::figure);
      sheet_.put(row_, limit, months_at_most(row.bound_want_days), Look::figure);
      sheet_.put(row_, jobs, std::int64_t{row.jobs_done}, Look::figure);
      if (row.finish) sheet_.put(row_, finish, *row.finish, Look::figure);
      sheet_.put(row_, spent, row.spent, Look::figure);
      sheet_.put(row_, left_over, row.left, Look::figure);
    } else {
      sheet_.spread(row_, worth, count - worth, row.impossible ? "impossible" : "no plan found");
    }
    ++row_;
  }

  void add_chart(int first, int last) {
    const auto rows = [&](int column) { return Range{first, column, last, column}; };
    ++row_;
    sheet_.chart =
        Chart{.row = row_,
              .column = 0,
              .width_px = 560,
              .height_px = 20 * (kChartRows - 1),
              .title = "Want-months by the amount each payday",
              .across = "Amount each payday (" + std::string(frontier_.build->currency.code) + ")",
              .up = "Want-months",
              .description =
                  "Line chart of the worth of the best plan found over the amount each payday, "
                  "and of the worth that no plan exceeds.",
              .categories = rows(amount),
              .curves = {{"Best plan found", rows(worth), false}, {"No plan has more", rows(limit), true}}};
    row_ += kChartRows;
  }

  void add_changes() {
    if (!frontier_.complete_from) return;
    const bool all = *frontier_.complete_from == frontier_.rows.front().amount;
    put_band(sheet_, row_++, count,
             all ? "The best plan changes at exactly"
                 : "The best plan changes at exactly (known from " +
                       budgets::write_money(*frontier_.complete_from, frontier_.build->currency) + " up)");
    for (const FrontierChange& change : frontier_.changes) {
      sheet_.put(row_, amount, change.at.amount, Look::figure);
      sheet_.put(row_, worth, months(change.at.value_want_days), Look::figure);
      const std::string moves = join(change.moves, "; ");
      sheet_.spread(row_++, limit, count - limit,
                    !change.known   ? "another plan than with any less"
                    : moves.empty() ? "the same stages for less money or time"
                                    : moves);
    }
    if (frontier_.changes.empty())
      sheet_.spread(row_++, 0, count, "no amount: the same plan is best throughout");
  }

  const FrontierReport& frontier_;
  Sheet sheet_;
  int row_ = kHeaderRow + 1;
};

}  // namespace

Book frontier_book(const FrontierReport& frontier) {
  Book book;
  book.title = frontier.build->name;
  book.digits = frontier.build->currency.digits;
  book.sheets.push_back(FrontierSheet(frontier).make());
  return book;
}

void write_frontier_workbook(const FrontierReport& frontier, const std::string& path) {
  render(frontier_book(frontier), path);
}

}  // namespace fettlefund::sheets
