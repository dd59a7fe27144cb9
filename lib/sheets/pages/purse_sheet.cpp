#include "lib/sheets/pages/purse_sheet.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/book/render.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {
namespace {

using purse::Share;
using purse::StageSum;

constexpr int kChartRows = 16;
enum Column { number, payday, bench, money_in, first_build };

std::vector<Heading> headings_of(const purse::Outcome& outcome) {
  std::vector<Heading> headings{{"Stage", 6, 6},
                                {"Payday", 10.5, 10.5},
                                {"Bench date", 10.5, 10.5},
                                {"Money in", 9, 14, Heading::figures}};
  for (const Share& share : outcome.shares)
    headings.push_back({"Spent on " + share.build->name, 9, 16, Heading::figures});
  headings.push_back({"Spent", 9, 14, Heading::figures});
  headings.push_back({"Left", 9, 14, Heading::figures});
  headings.push_back({"Keep-back", 9, 14, Heading::figures});
  headings.push_back({"Hours used", 7, 9, Heading::figures});
  headings.push_back({"Hours at hand", 7, 9, Heading::figures});
  headings.push_back({"Jobs", 30, 60});
  return headings;
}

std::string note_of(const purse::Outcome& outcome) {
  return fmt::format("Amounts in {}. {} What is typed, ticked and paid goes into the workbook of each build.",
                     outcome.build->currency.code, report::proof_line(outcome.whole));
}

class PurseSheet {
 public:
  PurseSheet(const purse::Outcome& outcome, const std::vector<std::string>& files)
      : outcome_(outcome),
        files_(files),
        sheet_(begin_sheet(kOverview, outcome.build->name, note_of(outcome), headings_of(outcome))),
        spent_(first_build + static_cast<int>(outcome.shares.size())) {
    sheet_.landscape = true;
  }

  Sheet make() {
    add_opening();
    for (const StageSum& stage : outcome_.stages) add(stage);
    last_ = row_ - 1;
    add_all();
    add_chart();
    add_builds();
    add_left_out();
    return std::move(sheet_);
  }

 private:
  int left() const { return spent_ + 1; }
  int floor() const { return spent_ + 2; }
  int used() const { return spent_ + 3; }
  int jobs() const { return spent_ + 5; }
  int columns() const { return jobs() + 1; }

  void add_opening() {
    const auto& money = outcome_.build->money;
    sheet_.spread(row_, number, money_in,
                  money.from ? "Cash on " + budgets::write_date(*money.from) : std::string("Opening cash"));
    sheet_.put(row_++, left(), money.opening, Look::figure);
    first_ = row_;
  }

  void add(const StageSum& stage) {
    sheet_.put(row_, number, std::int64_t{stage.number}, Look::centred);
    sheet_.put(row_, payday, stage.payday, Look::figure);
    sheet_.put(row_, bench, stage.bench, Look::figure);
    sheet_.put(row_, money_in, stage.cash_in, Look::figure);
    for (std::size_t b = 0; b < stage.spent_by.size(); ++b)
      sheet_.put(row_, first_build + static_cast<int>(b), stage.spent_by[b], Look::figure);
    sheet_.compute(row_, spent_,
                   "SUM(" + reference(row_, first_build) + ":" + reference(row_, spent_ - 1) + ")",
                   stage.spent);
    sheet_.compute(
        row_, left(),
        reference(row_ - 1, left()) + "+" + reference(row_, money_in) + "-" + reference(row_, spent_),
        stage.cash_after);
    sheet_.put(row_, floor(), stage.floor, Look::figure);
    sheet_.put(row_, used(), Minutes{stage.minutes_used}, Look::figure);
    sheet_.put(row_, used() + 1, Minutes{stage.minutes_limit}, Look::figure);
    sheet_.put(row_++, jobs(), jobs_of(stage.number));
  }

  /// "Bike: front tyre, chain; Van: bed".
  std::string jobs_of(int stage) const {
    std::vector<std::string> builds;
    for (const Share& share : outcome_.shares) {
      std::vector<std::string> names;
      for (const planning::StageView& view : share.outcome.stages) {
        if (view.number != stage) continue;
        for (const planning::JobView& job : view.jobs) names.push_back(job.name);
      }
      if (!names.empty()) builds.push_back(share.build->name + ": " + join(names, ", "));
    }
    return join(builds, "; ");
  }

  void add_all() {
    sheet_.put(row_, number, std::string("All"), Look::strong);
    for (int column = money_in; column <= spent_; ++column)
      sheet_.compute(row_, column, "SUM(" + reference(first_, column) + ":" + reference(last_, column) + ")",
                     sum(column));
    for (int column = used(); column < jobs(); ++column)
      sheet_.compute(row_, column, "SUM(" + reference(first_, column) + ":" + reference(last_, column) + ")",
                     Minutes{minutes(column)});
    row_ += 2;
  }

  Money sum(int column) const {
    Money all;
    for (const StageSum& stage : outcome_.stages) {
      all += column == money_in ? stage.cash_in
             : column == spent_ ? stage.spent
                                : stage.spent_by[static_cast<std::size_t>(column - first_build)];
    }
    return all;
  }

  std::int64_t minutes(int column) const {
    std::int64_t all = 0;
    for (const StageSum& stage : outcome_.stages)
      all += column == used() ? stage.minutes_used : stage.minutes_limit;
    return all;
  }

  void add_chart() {
    const auto rows = [&](int column) { return Range{first_, column, last_, column}; };
    sheet_.chart = Chart{.kind = Chart::Kind::lines,
                         .row = row_,
                         .column = 0,
                         .width_px = 640,
                         .height_px = 20 * (kChartRows - 1),
                         .title = "What is left of the purse after each payday",
                         .across = "Stage",
                         .up = std::string(outcome_.build->currency.code),
                         .description =
                             "Line chart of the cash left after each payday against the keep-back "
                             "that must stay.",
                         .categories = rows(number),
                         .curves = {{"Left", rows(left()), false}, {"Keep-back", rows(floor()), true}}};
    row_ += kChartRows;
  }

  void add_builds() {
    put_band(sheet_, row_++, columns(), "Builds");
    for (std::size_t b = 0; b < outcome_.shares.size(); ++b) {
      const Share& share = outcome_.shares[b];
      std::size_t planned = 0;
      std::int64_t taken = 0;
      Money spent;
      for (const planning::StageView& stage : share.outcome.stages) {
        planned += stage.jobs.size();
        taken += stage.minutes_used;
        spent += stage.spent;
      }
      sheet_.spread(row_++, number, columns(),
                    fmt::format("{}: {} of {} jobs, {}, {}; workbook {}", share.build->name, planned,
                                share.build->jobs.size(), planning::hours_text(taken),
                                planning::money_text(*outcome_.build, spent), files_[b]));
    }
    ++row_;
  }

  void add_left_out() {
    const bool any = std::any_of(outcome_.shares.begin(), outcome_.shares.end(),
                                 [](const Share& share) { return !share.outcome.left_out.empty(); });
    put_band(sheet_, row_++, columns(), any ? "Left out, and why" : "Left out: nothing");
    for (const Share& share : outcome_.shares) {
      for (const auto& job : share.outcome.left_out) {
        sheet_.spread(row_, number, first_build, share.build->name + ": " + job.name, Look::strong);
        sheet_.spread(row_++, first_build, columns() - first_build, job.reason);
      }
    }
  }

  const purse::Outcome& outcome_;
  const std::vector<std::string>& files_;
  Sheet sheet_;
  int spent_;
  int row_ = kHeaderRow + 1, first_ = 0, last_ = 0;
};

}  // namespace

Book purse_book(const purse::Outcome& outcome, const std::vector<std::string>& files) {
  Book book;
  book.title = outcome.build->name;
  book.digits = outcome.build->currency.digits;
  book.sheets.push_back(PurseSheet(outcome, files).make());
  return book;
}

void write_purse_workbook(const purse::Outcome& outcome, const std::vector<std::string>& files,
                          const std::string& path) {
  render(purse_book(outcome, files), path);
}

}  // namespace fettlefund::sheets
