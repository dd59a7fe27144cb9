#include <algorithm>
#include <cstdlib>

#include "lib/outcome/words.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/pages/stage_rows.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column {
  stage,
  payday,
  bench,
  money_in,
  planned,
  paid,
  counts,
  left,
  floor_,
  hours,
  hours_have,
  hours_taken,
  check,
  key,
  count
};
constexpr int kPrinted = check + 1;  // an upright page holds so many at a size that can be read
constexpr int kHeader = 7;
constexpr int kFirst = kHeader + 1;
constexpr int kChartRows = 15;

/// What the measure means, for somebody who did not write the build file.
constexpr const char* kWantMonth =
    "Each job is wanted 0 to 10: one wanted 6 and done five months before the end counts 30.";

/// "Proven best: ..." or how far from the bound a stopped search is.
std::string proof_line(const Outcome& outcome) {
  if (outcome.stages.empty() && outcome.build->money.from)
    return "Every stage is over: this is what was planned, paid and done. Nothing is planned any more.";
  const std::string value = planning::want_months_text(outcome.value_want_days);
  if (!outcome.purse.empty())
    return fmt::format(
        "This build's part of the plan of {} is worth {} want-months up to {}; what is proven is told of the "
        "whole. {}",
        outcome.purse, value, budgets::write_date(outcome.end), kWantMonth);
  if (outcome.proof == planning::Proof::proven)
    return fmt::format(
        "Proven best: this plan is worth {} want-months up to {}, and no plan of this build is worth more. "
        "{}",
        value, budgets::write_date(outcome.end), kWantMonth);
  return fmt::format(
      "Not proven best: this plan is worth {} want-months up to {}; no plan is worth more than {}. {}", value,
      budgets::write_date(outcome.end), planning::want_months_at_most_text(outcome.bound_want_days),
      kWantMonth);
}

class Overview {
 public:
  Overview(Book& book, const Outcome& outcome, const Past& past)
      : book_(book),
        outcome_(outcome),
        past_(past),
        stages_(stage_rows_of(outcome, past)),
        sheet_(kOverview),
        last_(kFirst + stage_count() - 1) {}

  void fill() {
    set_columns();
    add_stages();
    add_totals();
    add_top();
    add_rules();
    row_ = last_ + 3;
    add_chart();
    add_texts();
    book_.sheets.push_back(std::move(sheet_));
  }

 private:
  /// Behind table and chart.
  void add_texts() {
    std::vector<int> blocks;
    for (const auto add : {&Overview::add_jobs, &Overview::add_left_out, &Overview::add_warnings}) {
      blocks.push_back(row_);
      (this->*add)();
    }
    if (sheet_.page_breaks.empty()) break_before(blocks);
    share_last_page(sheet_, row_);
  }

  /// Where not all fits on a page, the second begins with the last block that begins on the first for sure:
  /// no heading stands alone at its end, whatever the program that prints makes of the heights.
  void break_before(const std::vector<int>& blocks) {
    constexpr double kSure = 0.97, kFull = 0.5;
    const double page = page_points(sheet_);
    if (height_to(row_) <= kSure * page) return;
    const auto last = std::find_if(blocks.rbegin(), blocks.rend(),
                                   [&](int block) { return height_to(block) <= kSure * page; });
    if (last != blocks.rend() && height_to(*last) >= kFull * page) sheet_.page_breaks.push_back(*last);
  }

  int stage_count() const { return static_cast<int>(stages_.size()); }
  /// The row of the first stage that is not over.
  int first_open() const {
    const auto over = std::count_if(stages_.begin(), stages_.end(), [](const auto& one) { return one.over; });
    return kFirst + static_cast<int>(over);
  }
  Range rows(int column) const { return {kFirst, column, last_, column}; }

  /// Of the columns of amounts: six of up to five figures and the decimals fit on a page.
  double money_width() const {
    std::int64_t most = 0;
    Money all = opening_of(outcome_, past_);
    for (const StageRow& one : stages_) {
      all += one.money_in;
      for (const Money amount : {all, one.money_in, one.planned, one.paid, one.counts, one.left, one.floor})
        most = std::max(most, std::abs(amount.minor()));
    }
    return std::to_string(most).size() <= 5U + static_cast<unsigned>(book_.digits) ? 8.8 : 16;
  }

  void set_columns() {
    sheet_.printed_columns = kPrinted;
    sheet_.frozen_columns = payday + 1;
    sheet_.header_row = kHeader;
    const double most = money_width();
    sheet_.columns = {{5.5, 5.5},  {10.5, 10.5}, {10.5, 10.5}, {8.8, most},   {8.8, most},
                      {8.8, most}, {8.8, most},  {8.8, most},  {8.8, most},   {6.5, 6.5},
                      {6.5, 6.5},  {6.5, 6.5},   {11, 11},     {10, 20, true}};
    const char* names[] = {"Stage",         "Payday",      "Bench date", "Money in",  "Planned",
                           "Paid so far",   "Counts",      "Left",       "Keep-back", "Hours used",
                           "Hours at hand", "Hours taken", "Check",      "Key"};
    for (int c = 0; c < count; ++c)
      sheet_.put(kHeader, c, std::string(names[c]),
                 c >= money_in && c < check ? Look::header_right : Look::header);
  }

  void add_stages() {
    int row = kFirst;
    for (const StageRow& one : stages_) add_stage(row++, one);
  }

  void add_stage(int row, const StageRow& one) {
    sheet_.stage_rows[one.number] = row;
    sheet_.put(row, stage, static_cast<std::int64_t>(one.number), Look::centred);
    sheet_.put(row, payday, one.payday);
    sheet_.put(row, bench, one.bench);
    sheet_.put(row, money_in, one.money_in);
    const std::string by_hand =
        fmt::format("SUMIFS({},{},{})", names::forgotten_paid, names::forgotten_stage, reference(row, stage));
    sheet_.compute(row, planned, rounded(book_, of_shopping(names::shop_planned, row)), one.planned);
    sheet_.compute(row, paid, rounded(book_, of_shopping(names::shop_paid, row) + "+" + by_hand), one.paid);
    sheet_.compute(row, counts, rounded(book_, of_shopping(names::shop_counts, row) + "+" + by_hand),
                   one.counts);
    const std::string before = row == kFirst ? std::string(names::opening_cash) : reference(row - 1, left);
    sheet_.compute(row, left,
                   rounded(book_, before + "+" + reference(row, money_in) + "-" + reference(row, counts)),
                   one.left);
    sheet_.put(row, floor_, one.floor);
    sheet_.put(row, hours, Minutes{one.used});
    sheet_.put(row, hours_have, Minutes{one.have});
    sheet_.compute(row, hours_taken,
                   fmt::format("SUMIFS({},{},{})", names::job_hours, names::job_stage, reference(row, stage)),
                   Minutes{one.taken});
    if (one.over)
      sheet_.put(row, check, one.check);
    else
      sheet_.compute(row, check, check_formula(row), one.check);
    sheet_.put(row, key, fmt::format("stage:{}", one.number), Look::note);
  }

  static std::string of_shopping(const char* amounts, int row) {
    return fmt::format("SUMIFS({},{},{})", amounts, names::shop_stage, reference(row, stage));
  }

  /// Whether the hours of the plan, or those taken, are more than are at hand. Cells as the formula names
  /// them.
  static std::string over_hours(const std::string& used, const std::string& taken, const std::string& have) {
    return fmt::format("(ROUND(60*{0},0)>ROUND(60*{2},0))+(ROUND(60*{1},0)>ROUND(60*{2},0))>0", used, taken,
                       have);
  }

  static std::string check_formula(int row) {
    return fmt::format(
        "IF({0}<{1},IF({2},\"below keep-back, over hours\",\"below keep-back\"),IF({2},\"over "
        "hours\",\"ok\"))",
        reference(row, left), reference(row, floor_),
        over_hours(reference(row, hours), reference(row, hours_taken), reference(row, hours_have)));
  }

  /// Title, proof and the figures of the whole plan. The figures stand in two columns of labels and values.
  void add_top() {
    const auto& build = *outcome_.build;
    sheet_.put(0, 0, build.name, Look::title);
    sheet_.spread(1, 0, kPrinted, proof_line(outcome_), Look::prose);
    sheet_.put(2, 0,
               fmt::format("Amounts in {}. Yellow cells are for typing; all else follows from them.",
                           build.currency.code),
               Look::note);
    label(3, stage, "Opening cash");
    sheet_.put(3, money_in, opening_of(outcome_, past_));
    label(4, stage, "Allowance, percent");
    sheet_.put(4, money_in, BasisPoints{build.money.allowance_bp});
    label(5, stage, "Left after the last payday");
    sheet_.compute(5, money_in,
                   stage_count() == 0 ? std::string(names::opening_cash) : reference(last_, left),
                   outcome_.left, Look::figure);
    sheet_.put(3, key, std::string("plan:opening"), Look::note);
    sheet_.put(4, key, std::string("plan:allowance"), Look::note);
    sheet_.put(5, key, std::string("plan:left"), Look::note);
    add_progress();
    add_count();
    name_rows(book_, sheet_, names::opening_cash, money_in, 3, 3);
    name_rows(book_, sheet_, names::allowance_percent, money_in, 4, 4);
  }

  void label(int row, int column, const std::string& text) { sheet_.spread(row, column, 3, text); }

  /// Where the cash is written down that was really there, and who types into this copy.
  void add_count() {
    label(3, hours, "Cash counted");
    sheet_.await(3, check, Shown::money);
    label(4, hours, "Counted on");
    sheet_.await(4, check, Shown::date);
    label(5, hours, "Your name");
    sheet_.await(5, check, Shown::text);
    sheet_.entries.push_back({{3, check, 3, check}, Entry::any_amount, 0});
    sheet_.entries.push_back({{4, check, 4, check}, Entry::day, 0});
  }

  void add_progress() {
    std::int64_t lines = std::ssize(past_.purchases), steps = 0;
    for (const auto& view : outcome_.stages) {
      for (const auto& order : view.orders) lines += std::ssize(order.lines);
      steps += std::ssize(view.work);
    }
    label(3, paid,
          fmt::format("Shopping ticked, of {} {}", lines, past_.purchases.empty() ? "articles" : "lines"));
    sheet_.compute(3, floor_, fmt::format("COUNTIF({},\"x\")", names::shop_tick),
                   static_cast<std::int64_t>(past_.purchases.size()));
    label(4, paid, fmt::format("Work ticked, of {} steps", steps));
    sheet_.compute(4, floor_, fmt::format("COUNTIF({},\"x\")", names::work_tick), std::int64_t{0});
    label(5, paid, "Paid cells that hold no number");
    sheet_.compute(5, floor_,
                   fmt::format("SUMPRODUCT(ISTEXT({})*1)+SUMPRODUCT(ISTEXT({})*1)", names::shop_paid,
                               names::forgotten_paid),
                   std::int64_t{0});
  }

  void add_totals() {
    StageRow all;
    for (const StageRow& one : stages_) {
      all.money_in += one.money_in;
      all.planned += one.planned;
      all.paid += one.paid;
      all.counts += one.counts;
      all.used += one.used;
      all.have += one.have;
      all.taken += one.taken;
    }
    total(money_in, all.money_in);
    total(planned, all.planned);
    total(paid, all.paid);
    total(counts, all.counts);
    total(hours, Minutes{all.used});
    total(hours_have, Minutes{all.have});
    total(hours_taken, Minutes{all.taken});
    put_band(sheet_, last_ + 1, key, "All");
  }

  void total(int column, Value sum) {
    const std::string formula =
        stage_count() == 0 ? std::string("0") : fmt::format("SUM({})", reference(rows(column)));
    sheet_.compute(last_ + 1, column, formula, std::move(sum), Look::band_total);
  }

  void add_rules() {
    if (stage_count() == 0) return;
    if (first_open() <= last_) add_warnings_of_stages();
    sheet_.highlights.push_back(
        {{5, floor_, 5, floor_}, fmt::format("={}>0", absolute(5, floor_)), Tone::warning});
    name_rows(book_, sheet_, names::reserve, left, kFirst, last_);
    name_rows(book_, sheet_, names::keep_back, floor_, kFirst, last_);
  }

  /// Of those that are not over.
  void add_warnings_of_stages() {
    const int row = first_open();
    const auto at = [&](int column) { return "$" + reference(row, column); };
    const auto warn = [&](int column, const std::string& formula) {
      sheet_.highlights.push_back({{row, column, last_, column}, formula, Tone::warning});
    };
    warn(left, fmt::format("={}<{}", at(left), at(floor_)));
    for (const int column : {hours, hours_taken})
      warn(column, fmt::format("=ROUND(60*{},0)>ROUND(60*{},0)", at(column), at(hours_have)));
    warn(check, fmt::format("={}<>\"ok\"", at(check)));
  }

  /// Points of the rows above that one.
  double height_to(int end) const {
    double points = 15.0 * end;
    for (const auto& [row, height] : sheet_.row_heights())
      if (row < end) points += height - 15.0;
    return points;
  }

  void add_chart() {
    if (stage_count() == 0) return;
    const double page = page_points(sheet_);
    if (height_to(last_ + 3) + 15.0 * kChartRows > page) sheet_.page_breaks.push_back(row_);
    sheet_.repeat_header = height_to(last_ + 3) > 1.2 * page;  // heights are guessed high
    Chart chart{
        .kind = Chart::Kind::lines,
        .row = row_,
        .column = 0,
        .width_px = static_cast<int>(7 * sheet_.printed_width()),
        .height_px = 20 * (kChartRows - 1),
        .title = "What is left after each payday",
        .across = "Payday",
        .up = std::string(outcome_.build->currency.code),
        .description = "Line chart of the cash left after each payday against the keep-back that must stay.",
        .dated = true,
        .categories = rows(payday),
        .curves = {{"Left", rows(left), false}, {"Keep-back", rows(floor_), true}}};
    sheet_.chart = std::move(chart);
    row_ += kChartRows;
  }

  /// What is done in each stage, and what is to be said of it.
  void add_jobs() {
    const int band = row_++;
    for (const StageRow& one : stages_) {
      if (one.jobs.empty() && one.remarks.empty()) continue;
      sheet_.put(row_, stage, static_cast<std::int64_t>(one.number), Look::centred);
      if (!one.jobs.empty()) sheet_.spread(row_++, payday, kPrinted - payday, one.jobs);
      if (!one.remarks.empty()) sheet_.spread(row_++, payday, kPrinted - payday, one.remarks, Look::prose);
    }
    if (row_ == band + 1) {
      --row_;
      return;
    }
    put_band(sheet_, band, key, "Jobs of the stages, and remarks");
    ++row_;
  }

  void add_left_out() {
    put_band(sheet_, row_++, key, outcome_.left_out.empty() ? "Left out: nothing" : "Left out, and why");
    for (const auto& job : outcome_.left_out) {
      sheet_.spread(row_, stage, 4, job.name, Look::strong);
      sheet_.spread(row_++, planned, kPrinted - planned, job.reason);
    }
    ++row_;
  }

  void add_warnings() {
    if (outcome_.warnings.empty()) return;
    put_band(sheet_, row_++, key, "Look at these");
    for (const std::string& warning : outcome_.warnings)
      sheet_.spread(row_++, 0, kPrinted, warning, Look::care);
  }

  Book& book_;
  const Outcome& outcome_;
  const Past& past_;
  std::vector<StageRow> stages_;
  Sheet sheet_;
  int last_;     ///< row of the last stage
  int row_ = 0;  ///< next free row below the totals
};

}  // namespace

void add_overview(Book& book, const Outcome& outcome, const Past& past) {
  Overview(book, outcome, past).fill();
}

}  // namespace fettlefund::sheets
