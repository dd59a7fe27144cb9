#include <array>

#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/pages/stage_rows.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { stage, parts, consumables, tools, delivery, hires, allowance, besides, all, count };
constexpr int kFirstRow = kHeaderRow + 1;
constexpr int kChartRows = 20;

int column_of(planning::PastKind kind) {
  using Kind = planning::PastKind;
  switch (kind) {
    case Kind::part:
      return parts;
    case Kind::consumable:
      return consumables;
    case Kind::tool:
      return tools;
    case Kind::delivery:
      return delivery;
    case Kind::hire:
    case Kind::fee:
      return hires;
    case Kind::allowance:
      return allowance;
    default:
      return besides;
  }
}

/// Adds what has been paid in a stage, by column.
void add_past(std::array<Money, count>& sums, const Past& past, int number) {
  for (const planning::PastPurchase& one : past.purchases) {
    if (one.stage != number) continue;
    sums[static_cast<std::size_t>(column_of(one.kind))] += one.paid;
    sums[all] += one.paid;
  }
}

/// What a stage spends of each kind as planned, by column.
std::array<Money, count> planned_of(const planning::StageView& view) {
  std::array<Money, count> sums{};
  for (const auto& order : view.orders) {
    for (const auto& line : order.lines) {
      const bool part = line.kind == build::ArticleKind::part, tool = line.kind == build::ArticleKind::tool;
      sums[part ? parts : tool ? tools : consumables] += line.amount;
    }
  }
  sums[delivery] = view.delivery;
  sums[hires] = view.hire + view.fees;
  sums[allowance] = view.allowance;
  for (int c = parts; c < all; ++c) sums[all] += sums[static_cast<std::size_t>(c)];
  return sums;
}

/// What counts in a stage: what has been paid in it, and what it still spends.
std::array<Money, count> counted_of(const Outcome& outcome, const Past& past, int number) {
  std::array<Money, count> sums{};
  for (const auto& view : outcome.stages)
    if (view.number == number) sums = planned_of(view);
  add_past(sums, past, number);
  return sums;
}

std::string of_kind(int row, const char* kind) {
  return fmt::format("SUMIFS({},{},{},{},\"{}\")", names::shop_counts, names::shop_stage,
                     reference(row, stage), names::shop_kind, kind);
}

std::string formula_of(int row, int column) {
  switch (column) {
    case parts:
      return of_kind(row, "part");
    case consumables:
      return of_kind(row, "consumable");
    case tools:
      return of_kind(row, "tool");
    case delivery:
      return of_kind(row, "delivery");
    case hires:
      return of_kind(row, "hire") + "+" + of_kind(row, "fee");
    case allowance:
      return of_kind(row, "allowance");
    case besides:
      return of_kind(row, "besides") + fmt::format("+SUMIFS({},{},{})", names::forgotten_paid,
                                                   names::forgotten_stage, reference(row, stage));
    default:
      return fmt::format("SUM({})", reference({row, parts, row, besides}));
  }
}

Chart chart_of(int first, int last, const std::string& currency) {
  const char* names[] = {"Parts",          "Consumables", "Tools",           "Delivery",
                         "Hires and fees", "Allowance",   "Besides the plan"};
  Chart chart{.kind = Chart::Kind::stacked_columns,
              .row = last + 3,
              .column = 0,
              .width_px = 840,
              .height_px = 20 * (kChartRows - 1),
              .title = "What each stage spends, by kind",
              .across = "Stage",
              .up = currency,
              .description = "Stacked columns of what counts as spent in each stage, by kind of article.",
              .categories = {first, stage, last, stage},
              .curves = {}};
  for (int c = parts; c < all; ++c) chart.curves.push_back({names[c - parts], {first, c, last, c}, false});
  return chart;
}

void add_all(Sheet& sheet, int row, const std::array<Money, count>& sums) {
  for (int c = parts; c < count; ++c)
    sheet.compute(row, c, fmt::format("SUM({})", reference({kFirstRow, c, row - 1, c})),
                  sums[static_cast<std::size_t>(c)], Look::band_total);
  put_band(sheet, row, count, "All");
}

}  // namespace

void add_spending(Book& book, const Outcome& outcome, const Past& past) {
  Sheet sheet =
      begin_sheet(kSpending, "Spending by stage and kind",
                  fmt::format("Amounts in {}: what counts in Shopping, and what is paid in Easily forgotten.",
                              outcome.build->currency.code),
                  {{"Stage", 6.5, 6.5},
                   {"Parts", 12, 16, Heading::figures},
                   {"Consumables", 12, 16, Heading::figures},
                   {"Tools", 12, 16, Heading::figures},
                   {"Delivery", 12, 16, Heading::figures},
                   {"Hires and fees", 12, 16, Heading::figures},
                   {"Allowance", 12, 16, Heading::figures},
                   {"Besides the plan", 12, 16, Heading::figures},
                   {"All", 12, 16, Heading::figures}});
  int row = kFirstRow;
  std::array<Money, count> sums{};
  for (const StageRow& one : stage_rows_of(outcome, past)) {
    const auto planned = counted_of(outcome, past, one.number);
    sheet.put(row, stage, static_cast<std::int64_t>(one.number), Look::centred);
    for (int c = parts; c < count; ++c) {
      const Money amount = planned[static_cast<std::size_t>(c)];
      sheet.compute(row, c, rounded(book, formula_of(row, c)), amount);
      sums[static_cast<std::size_t>(c)] += amount;
    }
    ++row;
  }
  if (row > kFirstRow) {
    add_all(sheet, row, sums);
    if (15.0 * (row + 4 + kChartRows) > page_points(sheet)) sheet.page_breaks.push_back(row + 2);
    sheet.chart = chart_of(kFirstRow, row - 1, std::string(outcome.build->currency.code));
  } else {
    sheet.spread(row, 0, count, "No stage is left.");
  }
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
