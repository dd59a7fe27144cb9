#include "lib/outcome/words.hpp"
#include "lib/report/text/compare.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::FrontierChange;
using planning::FrontierReport;
using planning::FrontierRow;

constexpr std::size_t changes_shown = 40, moves_shown = 4;

std::string money(const FrontierReport& report, budgets::Money amount) {
  return budgets::write_money(amount, report.build->currency);
}

std::string proof(const FrontierRow& row) {
  return row.proven ? "best" : "<= " + planning::want_months_at_most_text(row.bound_want_days);
}

std::string line(const FrontierReport& report, const FrontierRow& row) {
  const std::string amount = text::pad_left(money(report, row.amount), 11);
  if (!row.planned) return amount + (row.impossible ? "  impossible" : "  no plan found");
  return amount + text::pad_left(planning::want_months_text(row.value_want_days), 13) +
         text::pad_left(proof(row), 12) + text::pad_left(std::to_string(row.jobs_done), 6) +
         text::pad_left(row.finish ? budgets::write_date(*row.finish) : "-", 12) +
         text::pad_left(money(report, row.spent), 13) + text::pad_left(money(report, row.left), 12);
}

void add_rows(Page& page, const FrontierReport& report) {
  page.blank();
  page.line(page.bold("     Amount  Want-months  No plan >  Jobs    Last job        Spent        Left"));
  for (const FrontierRow& row : report.rows) page.line(line(report, row));
}

std::string words(const FrontierChange& change) {
  std::string text;
  for (std::size_t i = 0; i < std::min(change.moves.size(), moves_shown); ++i) {
    text += (i == 0 ? "" : "; ") + change.moves[i];
  }
  if (change.moves.size() > moves_shown)
    text += fmt::format("; and {} more", change.moves.size() - moves_shown);
  if (!change.known) return "another plan than with any less";
  return text.empty() ? "the same stages for less money or time" : text;
}

void add_changes(Page& page, const FrontierReport& report) {
  if (!report.complete_from) {
    page.blank();
    return page.item(
        "",
        "The exact amounts at which the best plan changes are not known: for that, plans have to be "
        "proven best.",
        0);
  }
  page.heading("The best plan changes at exactly");
  if (*report.complete_from != report.rows.front().amount) {
    page.item("  ", fmt::format("Known from {} up only.", money(report, *report.complete_from)), 2);
  }
  if (report.changes.empty()) page.item("  ", "no amount: the same plan is best throughout.", 2);
  const std::size_t shown = std::min(report.changes.size(), changes_shown);
  for (std::size_t i = 0; i < shown; ++i) {
    const FrontierChange& change = report.changes[i];
    page.item(text::pad_left(money(report, change.at.amount), 11) +
                  text::pad_left(planning::want_months_text(change.at.value_want_days), 10) + "  ",
              text::printable(words(change)), 23);
  }
  if (shown < report.changes.size()) {
    page.item("  ", fmt::format("and {} more: --json tells them all.", report.changes.size() - shown), 2);
  }
}

}  // namespace

std::string frontier_text(const FrontierReport& report, const TextOptions& options) {
  Page page(nullptr, options);
  page.title(text::printable(report.build->name) + ": what the amount each payday makes of it");
  page.line(fmt::format("Now {} {} each payday.", money(report, report.build->money.amount),
                        report.build->currency.code));
  add_rows(page, report);
  add_changes(page, report);
  page.heading("How to read this");
  for (const std::string& note : report.notes) page.item("  -", note, 4);
  return page.take();
}

}  // namespace fettlefund::report
