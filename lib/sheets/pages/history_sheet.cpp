#include <algorithm>
#include <array>

#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

using planning::Against;
using planning::JobAgainst;

enum Column { what, planned, paid, more, hours, taken, day, state, count };
constexpr int kFirstRow = kHeaderRow + 1;

/// Writes tables one below the other.
class HistorySheet {
 public:
  HistorySheet(Book& book, const Outcome& outcome, const planning::Year& year)
      : book_(book), outcome_(outcome), year_(year), sheet_(begin(year)) {}

  void fill() {
    table("By supplier", year_.suppliers);
    table("By kind", year_.kinds);
    table("By stage", year_.stages);
    jobs();
    prices();
    who();
    book_.sheets.push_back(std::move(sheet_));
  }

 private:
  static Sheet begin(const planning::Year& year) {
    Sheet sheet = begin_sheet(
        kHistory, "Planned and paid",
        fmt::format("Amounts in {}, up to {}. Planned is by the build file as it is now: what was bought, at "
                    "the likely prices.",
                    year.build->currency.code, budgets::write_date(year.day)),
        {{"What", 28, 44},
         {"Planned", 10, 16, Heading::figures},
         {"Paid", 10, 16, Heading::figures},
         {"More", 10, 16, Heading::figures},
         {"Hours planned", 9, 10, Heading::figures},
         {"Hours taken", 9, 10, Heading::figures},
         {"Day", 11.5, 11.5},
         {"State", 14, 50}});
    sheet.landscape = true;
    return sheet;
  }

  static bool nothing(const Against& one) { return one.planned == Money() && one.paid == Money(); }

  void amounts(const std::string& name, Money first, Money second, Look look = Look::body) {
    sheet_.put(row_, what, name, look);
    sheet_.put(row_, planned, first);
    sheet_.put(row_, paid, second);
    sheet_.compute(row_, more, difference(), second - first);
  }

  std::string difference() const {
    return rounded(book_, reference(row_, paid) + "-" + reference(row_, planned));
  }

  void all(int first) {
    const std::pair<int, Money> sums[] = {
        {planned, year_.planned}, {paid, year_.paid}, {more, year_.paid - year_.planned}};
    for (const auto& [column, sum] : sums)
      sheet_.compute(row_, column,
                     rounded(book_, fmt::format("SUM({})", reference({first, column, row_ - 1, column}))),
                     sum, Look::band_total);
    put_band(sheet_, row_++, count, "All");
    ++row_;
  }

  void table(const std::string& heading, const std::vector<Against>& rows) {
    if (std::all_of(rows.begin(), rows.end(), nothing)) return;
    put_band(sheet_, row_++, count, heading);
    const int first = row_;
    for (const Against& one : rows) {
      if (nothing(one)) continue;
      amounts(one.name, one.planned, one.paid);
      ++row_;
    }
    all(first);
  }

  void jobs() {
    put_band(sheet_, row_++, count, "By job: goods that it alone needs, and its bench time");
    const int first = row_;
    for (const JobAgainst& job : year_.jobs) {
      amounts(job.name, job.planned, job.paid, Look::strong);
      sheet_.put(row_, hours, Minutes{job.planned_minutes});
      const std::optional<std::int64_t> minutes = job.taken ? job.taken : job.begun;
      if (minutes) sheet_.put(row_, taken, Minutes{*minutes});
      const std::optional<Date> on = job.fitted ? job.fitted : job.given_up;
      if (on) sheet_.put(row_, day, *on);
      sheet_.put(row_++, state, state_of(job));
    }
    amounts(year_.shared.name, year_.shared.planned, year_.shared.paid);
    ++row_;
    all(first);
  }

  std::string state_of(const JobAgainst& job) const {
    if (job.fitted) return "done";
    if (job.given_up) return "given up";
    const std::string begun = job.begun ? "begun, " : "";
    for (const auto& stage : outcome_.stages)
      for (const auto& one : stage.jobs)
        if (one.id == job.id) return fmt::format("{}planned for stage {}", begun, stage.number);
    for (const auto& one : outcome_.left_out)
      if (one.job == job.id) return begun + "left out: " + one.reason;
    return begun + "not planned";
  }

  void prices() {
    if (year_.prices.empty()) return;
    put_band(sheet_, row_++, count, "Prices of a pack that were not the likely ones");
    for (const planning::PricePaid& price : year_.prices) {
      amounts(fmt::format("{} from {}", price.article_name, price.supplier_name), price.likely, price.paid);
      sheet_.put(row_++, day, price.date);
    }
  }

  void who() {
    if (year_.who.empty()) return;
    put_band(sheet_, row_++, count, "By who recorded it");
    for (const planning::Recorder& one : year_.who) {
      sheet_.put(row_, what, one.name.empty() ? std::string("Nobody named") : one.name);
      sheet_.put(row_, paid, one.paid);
      sheet_.put(row_++, state, fmt::format("{} {}", one.entries, one.entries == 1 ? "entry" : "entries"));
    }
  }

  Book& book_;
  const Outcome& outcome_;
  const planning::Year& year_;
  Sheet sheet_;
  int row_ = kFirstRow;
};

}  // namespace

void add_history(Book& book, const Outcome& outcome, const Past& past) {
  if (past.year && past.year->first) HistorySheet(book, outcome, *past.year).fill();
}

}  // namespace fettlefund::sheets
