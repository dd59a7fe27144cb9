#include "lib/report/text/compare.hpp"

#include <functional>

#include "lib/outcome/words.hpp"
#include "lib/report/text/page.hpp"
#include "lib/text/columns.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::CompareColumn;
using planning::Comparison;

constexpr int label_width = 28, column_width = 13;

std::string letter(std::size_t column) { return std::string(1, static_cast<char>('A' + column)); }

class Writer {
 public:
  Writer(const Comparison& comparison, const TextOptions& options)
      : all_(comparison), page_(nullptr, options) {}

  std::string write() {
    add_head();
    add_figures();
    add_moves();
    add_reasons();
    page_.heading("How to read this");
    for (const std::string& note : all_.notes) page_.item("  -", note, 4);
    return page_.take();
  }

 private:
  using Cell = std::function<std::string(const CompareColumn&)>;

  void add_head() {
    page_.title(text::printable(all_.build->name) + ": side by side");
    for (std::size_t i = 0; i < all_.columns.size(); ++i) {
      page_.item("  " + letter(i) + "  ", text::printable(all_.columns[i].title), 5);
    }
  }

  void row(const std::string& label, const Cell& cell, bool first = false) {
    std::string line = text::pad_right(label, label_width);
    for (const CompareColumn& column : all_.columns) {
      line += text::pad_left(column.planned ? cell(column) : first ? without(column) : "-", column_width);
    }
    page_.line(line);
  }

  static std::string without(const CompareColumn& column) {
    return column.impossible ? "impossible" : "no plan";
  }

  void letters(const std::string& label) {
    std::string line = text::pad_right(label, label_width);
    for (std::size_t i = 0; i < all_.columns.size(); ++i) line += text::pad_left(letter(i), column_width);
    page_.line(page_.bold(line));
  }

  std::string money(budgets::Money amount) const {
    return budgets::write_money(amount, all_.build->currency);
  }

  void add_figures() {
    page_.blank();
    letters("");
    row(
        "Want-months", [](const auto& one) { return planning::want_months_text(one.value_want_days); }, true);
    row("  no plan has more than", [](const auto& one) {
      return one.proof == planning::Proof::proven ? "proven best"
                                                  : planning::want_months_at_most_text(one.bound_want_days);
    });
    row("Jobs done",
        [](const auto& one) { return fmt::format("{} of {}", one.jobs_done, one.stage_of.size()); });
    row("Bench date of the last",
        [](const auto& one) { return one.finish ? budgets::write_date(*one.finish) : "-"; });
    row("Bench time", [](const auto& one) { return planning::hours_text(one.minutes); });
    row("Money spent (" + std::string(all_.build->currency.code) + ")",
        [&](const auto& one) { return money(one.spent); });
    row("Money left at the end", [&](const auto& one) { return money(one.left); });
  }

  void add_moves() {
    page_.blank();
    if (all_.moving.empty()) return page_.line("No job moves.");
    letters("Jobs that move, by stage");
    for (const int j : all_.moving) {
      const auto at = static_cast<std::size_t>(j);
      const auto lines = text::wrapped(text::printable(all_.build->jobs[at].name), label_width - 3);
      for (std::size_t i = 0; i + 1 < lines.size(); ++i) page_.line("  " + lines[i]);
      row("  " + lines.back(), [&](const CompareColumn& one) {
        return one.stage_of[at] > 0 ? std::to_string(one.stage_of[at]) : std::string("left out");
      });
    }
  }

  void add_reasons() {
    for (std::size_t i = 0; i < all_.columns.size(); ++i) {
      if (!all_.columns[i].impossible) continue;
      page_.heading(letter(i) + " is impossible");
      for (const std::string& reason : all_.columns[i].reasons) page_.item("  -", text::printable(reason), 4);
    }
  }

  const Comparison& all_;
  Page page_;
};

}  // namespace

std::string compare_text(const Comparison& comparison, const TextOptions& options) {
  return Writer(comparison, options).write();
}

}  // namespace fettlefund::report
