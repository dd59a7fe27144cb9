#include <algorithm>

#include "lib/goods/packs.hpp"
#include "lib/sheets/book/words.hpp"
#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

using planning::OrderView;
using planning::ShoppingLine;
using planning::StageView;

constexpr int kFirstRow = kHeaderRow + 1;
constexpr int kSpareLines = 10;  // for things bought besides the plan

std::string needed_for(const ShoppingLine& line) {
  std::vector<std::string> parts;
  for (const auto& need : line.needed_by) parts.push_back(need.name);
  return join(parts, ", ");
}

std::string remarks(const ShoppingLine& line) {
  std::vector<std::string> parts;
  if (line.for_stage != line.stage) parts.push_back(fmt::format("For stage {}.", line.for_stage + 1));
  if (line.last_order_day)
    parts.push_back("Order by " + budgets::write_date(*line.last_order_day) + ": limited run.");
  if (!line.reason.empty()) parts.push_back("Easily forgotten.");  // why: on that sheet
  return join(parts, " ");
}

std::string kind_of(build::ArticleKind kind) {
  return kind == build::ArticleKind::part ? "part" : kind == build::ArticleKind::tool ? "tool" : "consumable";
}

/// Fills the sheet from the top, stage by stage.
class Shopping {
 public:
  Shopping(Book& book, const Outcome& outcome, const Past& past)
      : book_(book), outcome_(outcome), past_(past), sheet_(begin()), row_(kFirstRow) {
    if (!past.purchases.empty()) add_state_columns();
  }

  void fill() {
    sheet_.frozen_columns = shop::article + 1;  // the article stays beside what is typed
    const int first = outcome_.stages.empty() ? 0 : outcome_.stages.front().number;
    for (const planning::PastStage& stage : past_.stages)
      if (stage.number != first) add_over(stage);
    for (const StageView& stage : outcome_.stages) add(stage);
    add_spare_lines();
    finish();
  }

 private:
  static Sheet begin() {
    Sheet sheet = begin_sheet(kShopping, "Shopping", "",
                              {{"Tick", 4.5, 4.5},
                               {"Stage", 5.5, 5.5},
                               {"Supplier", 9, 14},
                               {"Article", 16, 16},
                               {"Packs", 6, 9, Heading::figures},
                               {"One pack", 8, 9},
                               {"Price", 7.7, 16, Heading::figures},
                               {"Planned", 7.7, 16, Heading::figures},
                               {"Paid", 7.7, 16, Heading::figures},
                               {"Arrives", 10.5, 10.5},
                               {"Remarks", 12, 12},
                               {"Counts", 8.5, 16, Heading::figures},
                               {"Bought on", 10.5, 10.5},
                               {"Needed for", 12, 60},
                               {"Your remark", 20, 20},
                               {"Kind", 10, 12, Heading::hidden},
                               {"Key", 10, 30, Heading::hidden},
                               {"Goods", 10, 16, Heading::hidden},
                               {"Before allowance", 10, 16, Heading::hidden},
                               {"Line planned", 10, 16, Heading::hidden},
                               {"Line counts", 10, 16, Heading::hidden}});
    sheet.printed_columns = shop::remarks + 1;
    sheet.open = true;  // or no program would let anybody sort it
    return sheet;
  }

  /// Behind the hidden columns, so that nothing else moves.
  void add_state_columns() {
    sheet_.columns.push_back({10, 12});
    sheet_.columns.push_back({9, 14});
    sheet_.columns.push_back({10.5, 10.5});
    sheet_.put(kHeaderRow, shop::state_on, std::string("State on"), Look::header);
    sheet_.put(kHeaderRow, shop::state, std::string("State"), Look::header);
    sheet_.put(kHeaderRow, shop::came_back, std::string("Came back"), Look::header_right);
  }

  std::string cell(int column) const { return reference(row_, column); }

  /// What the lines of a stage have in a column. Every total finds its lines by what stands in them, so that
  /// sorting the sheet changes none.
  static std::string of_stage(const char* column, const std::string& stage) {
    return fmt::format("SUMIFS({},{},{})", column, names::shop_stage, stage);
  }

  /// What the goods that are still to be ordered with the line in this row have in a column.
  std::string of_order(const char* column) const {
    return fmt::format("SUMPRODUCT(({}={})*({}={})*ISNUMBER({}),{})", names::shop_stage, cell(shop::stage),
                       names::shop_supplier, cell(shop::supplier), names::shop_goods, column);
  }

  void add(const StageView& stage) {
    const int band = begin_block(stage.number);
    const int first = row_;
    const PastSums sums = add_past(stage.number);
    const int first_planned = row_;
    for (const OrderView& order : stage.orders) add(stage, order);
    for (const auto& hire : stage.hires)
      add_single(stage, "Hire: " + hire.name, hire.amount, "hire", hire.tool);
    for (const auto& fee : stage.fee_lines) add_single(stage, "Fee: " + fee.name, fee.amount, "fee", fee.job);
    if (row_ > first_planned && outcome_.build->money.allowance_bp > 0) add_allowance(stage);
    const char* note = row_ == first           ? " - nothing to buy"
                       : row_ == first_planned ? " - nothing more to buy"
                                               : "";
    add_band(band, stage.number, stage.payday, note, {sums.planned + stage.spent, sums.paid + stage.spent});
  }

  void add_over(const planning::PastStage& stage) {
    const int band = begin_block(stage.number);
    const int first = row_;
    const PastSums sums = add_past(stage.number);
    add_band(band, stage.number, stage.payday, row_ == first ? " - over, nothing was bought" : " - over",
             sums);
  }

  int begin_block(int number) {
    sheet_.stage_rows[number] = row_;
    blocks_.push_back(row_);
    return row_++;
  }

  struct PastSums {
    Money planned, paid;
  };

  /// What was bought in the stage: nothing to type but a remark.
  PastSums add_past(int number) {
    PastSums sums;
    for (const planning::PastPurchase& one : past_.purchases) {
      if (one.stage != number) continue;
      add_past(one);
      sums.planned += one.planned;
      sums.paid += one.paid;
    }
    return sums;
  }

  void add_past(const planning::PastPurchase& one) {
    sheet_.put(row_, shop::tick, std::string("x"), Look::centred);
    sheet_.put(row_, shop::stage, static_cast<std::int64_t>(one.stage), Look::centred);
    sheet_.put(row_, shop::supplier, one.supplier);
    sheet_.put(row_, shop::article, one.name);
    sheet_.put(row_, shop::packs, one.packs);
    if (one.price) sheet_.put(row_, shop::price, *one.price);
    sheet_.put(row_, shop::planned, one.planned);
    sheet_.put(row_, shop::paid, one.paid);
    sheet_.compute(row_, shop::counts, rounded(book_, cell(shop::paid)), one.paid);
    sheet_.put(row_, shop::bought_on, one.bought);
    if (one.article) sheet_.put(row_, shop::arrives, one.arrives);
    std::vector<std::string> words{one.state.empty() ? "bought" : one.state};
    words.insert(words.end(), one.remarks.begin(), one.remarks.end());
    if (!one.by.empty()) words.push_back("recorded by " + one.by);
    sheet_.put(row_, shop::remarks, join(words, "; "));
    sheet_.await(row_, shop::own_remark, Shown::text);
    sheet_.put(row_, shop::kind, kind_word(one.kind), Look::note);
    sheet_.put(row_, shop::key, past_key(one), Look::note);
    sheet_.compute(row_, shop::line_planned, cell(shop::planned), one.planned);
    sheet_.compute(row_, shop::line_counts, cell(shop::counts), one.paid);
    if (one.article && one.packs_left > 0) {
      sheet_.await(row_, shop::state, Shown::text);
      sheet_.entries.push_back(
          {{row_, shop::state, row_, shop::state}, Entry::pick, 0, states_of_things(), {}, true});
    }
    sheet_.await(row_, shop::came_back, Shown::money);
    sheet_.entries.push_back({{row_, shop::came_back, row_, shop::came_back}, Entry::amount, 0});
    sheet_.await(row_, shop::state_on, Shown::date);
    sheet_.entries.push_back({{row_, shop::state_on, row_, shop::state_on}, Entry::day, 0});
    for (int c = shop::tick; c < shop::kind; ++c)
      if (sheet_.find(row_, c) == nullptr) sheet_.await(row_, c, Shown::text, Look::body);
    ++row_;
  }

  void add_band(int band, int number, Date payday, const std::string& note, const PastSums& sums) {
    if (row_ > band + 1) {
      const std::string stage = std::to_string(number);
      sheet_.compute(band, shop::planned, of_stage(names::shop_line_planned, stage), sums.planned,
                     Look::band_total);
      sheet_.compute(band, shop::counts, of_stage(names::shop_line_counts, stage), sums.paid,
                     Look::band_total);
    }
    put_band(sheet_, band, shop::kind,
             fmt::format("Stage {} - payday {}{}", number, budgets::write_date(payday), note));
  }

  void add(const StageView& stage, const OrderView& order) {
    for (const ShoppingLine& line : order.lines) {
      begin_line(stage, order.supplier_name, line.name, line.key, kind_of(line.kind));
      sheet_.put(row_, shop::packs, line.packs, Look::input);
      sheet_.put(row_, shop::pack, goods::write_amount(line.pack, line.unit));
      sheet_.put(row_, shop::price, line.price, Look::input);
      sheet_.compute(row_, shop::planned, product(), line.amount);
      sheet_.put(row_, shop::needed_for, needed_for(line));
      sheet_.put(row_, shop::arrives, line.arrives, Look::input);
      sheet_.put(row_, shop::remarks, remarks(line));
      sheet_.compute(row_, shop::goods, cell(shop::planned), line.amount);
      end_line(line.amount);
    }
    if (order.delivery_charge > Money{}) add_delivery(stage, order);
  }

  std::string product() const { return rounded(book_, cell(shop::packs) + "*" + cell(shop::price)); }

  void add_delivery(const StageView& stage, const OrderView& order) {
    begin_line(stage, order.supplier_name, "Delivery",
               fmt::format("delivery:{}@{}", order.supplier, stage.number), "delivery");
    const std::string free_from = free_from_cell(outcome_, terms_of(order));
    sheet_.compute(row_, shop::price, delivery_charge_cell(outcome_, terms_of(order)), order.delivery_charge);
    const std::string unless_free =
        fmt::format("IF(ISNUMBER({0}),IF({1}>={0},0,{2}),{2})", free_from,
                    rounded(book_, of_order(names::shop_goods)), cell(shop::price));
    sheet_.compute(row_, shop::planned,
                   fmt::format("IF({}=0,0,{})", of_order(names::shop_packs), unless_free), order.delivery);
    if (order.free_from)
      sheet_.put(
          row_, shop::remarks,
          "Free from " + budgets::write_money(*order.free_from, outcome_.build->currency) + " of goods.");
    end_line(order.delivery);
  }

  /// A hire or a fee: one of it, at its price.
  void add_single(const StageView& stage, const std::string& what, Money amount, const std::string& kind,
                  const std::string& id) {
    begin_line(stage, "", what, fmt::format("{}:{}@{}", kind, id, stage.number), kind);
    sheet_.put(row_, shop::packs, std::int64_t{1}, Look::input);
    sheet_.put(row_, shop::price, amount, Look::input);
    sheet_.compute(row_, shop::planned, product(), amount);
    end_line(amount);
  }

  /// In whole minor units and hundredths of a percent: what doubles hold exactly up to 9e11 minor units.
  void add_allowance(const StageView& stage) {
    begin_line(stage, "", "Allowance for the unforeseen", fmt::format("allowance:{}", stage.number),
               "allowance");
    std::string unit = "1";
    unit.append(static_cast<std::size_t>(book_.digits), '0');
    sheet_.compute(
        row_, shop::planned,
        fmt::format("ROUNDUP(ROUND({}*{},0)*ROUND({}*100,0)/10000,0)/{}",
                    of_stage(names::shop_before, cell(shop::stage)), unit, names::allowance_percent, unit),
        stage.allowance);
    end_line(stage.allowance, false);
  }

  void begin_line(const StageView& stage, const std::string& supplier, const std::string& what,
                  const std::string& key, const std::string& kind) {
    sheet_.await(row_, shop::tick, Shown::text, Look::tick);
    sheet_.put(row_, shop::stage, static_cast<std::int64_t>(stage.number), Look::centred);
    sheet_.put(row_, shop::supplier, supplier);
    sheet_.put(row_, shop::article, what);
    sheet_.put(row_, shop::kind, kind, Look::note);
    sheet_.put(row_, shop::key, key, Look::note);
  }

  /// Cells of every line where something may be told besides the amount.
  void await_tellings() {
    sheet_.await(row_, shop::bought_on, Shown::date);
    sheet_.await(row_, shop::own_remark, Shown::text);
    for (int c = shop::tick; c < shop::kind; ++c)
      if (sheet_.find(row_, c) == nullptr) sheet_.await(row_, c, Shown::text, Look::body);
  }

  void end_line(Money planned, bool before_allowance = true) {
    sheet_.await(row_, shop::paid, Shown::money);
    sheet_.compute(row_, shop::counts,
                   fmt::format("IF(ISNUMBER({0}),{1},{2})", cell(shop::paid),
                               rounded(book_, cell(shop::paid)), cell(shop::planned)),
                   planned);
    if (before_allowance) sheet_.compute(row_, shop::before_allowance, cell(shop::planned), planned);
    sheet_.compute(row_, shop::line_planned, cell(shop::planned), planned);
    sheet_.compute(row_, shop::line_counts, cell(shop::counts), planned);
    await_tellings();
    ++row_;
  }

  void add_spare_lines() {
    blocks_.push_back(row_);
    put_band(sheet_, row_++, shop::kind,
             "Bought besides the plan - type the stage whose payday paid it, what, and Paid");
    spare_ = row_;
    for (int i = 1; i <= kSpareLines; ++i, ++row_) {
      sheet_.await(row_, shop::tick, Shown::text, Look::tick);
      sheet_.await(row_, shop::stage, Shown::count);
      sheet_.await(row_, shop::supplier, Shown::text);
      sheet_.await(row_, shop::article, Shown::text);
      sheet_.await(row_, shop::paid, Shown::money);
      sheet_.compute(
          row_, shop::counts,
          fmt::format("IF(ISNUMBER({0}),{1},0)", cell(shop::paid), rounded(book_, cell(shop::paid))),
          Money{});
      sheet_.put(row_, shop::kind, std::string("besides"), Look::note);
      sheet_.put(row_, shop::key, fmt::format("besides:{}", i), Look::note);
      await_tellings();
    }
  }

  /// What a line is called and what is said of it have what the figures leave of the page.
  void lay_out() {
    fit_lines(sheet_, shop::supplier, 2, 16);
    share_page(sheet_, {{shop::article, 0.56}, {shop::remarks, 0.44}});
    put_note(
        sheet_,
        fmt::format("Amounts in {}. Tick with x what is bought and type under Paid what it really cost: it "
                    "then counts instead of the planned amount. Allowance lines: what came up, 0 if nothing "
                    "did. On the screen there is more to the right: what it is for, the day you bought it, "
                    "your remark.",
                    outcome_.build->currency.code));
    keep_together(sheet_, blocks_, row_);
    share_last_page(sheet_, row_);
  }

  void finish() {
    lay_out();
    const int last = row_ - 1;
    const auto rows = [&](int column) { return Range{kFirstRow, column, spare_ - 2, column}; };
    if (spare_ - 2 >= kFirstRow) {
      sheet_.entries.push_back({rows(shop::packs), Entry::packs, 0});
      sheet_.entries.push_back({rows(shop::price), Entry::amount, 0});
      sheet_.entries.push_back({rows(shop::paid), Entry::amount, 0});
    }
    sheet_.entries.push_back({{kFirstRow, shop::tick, last, shop::tick}, Entry::tick, 0});
    sheet_.entries.push_back({{kFirstRow, shop::bought_on, last, shop::bought_on}, Entry::day, 0});
    sheet_.entries.push_back({{kFirstRow, shop::arrives, last, shop::arrives}, Entry::day, 0});
    sheet_.entries.push_back({{spare_, shop::paid, last, shop::paid}, Entry::any_amount, 0});
    sheet_.entries.push_back({{spare_, shop::stage, last, shop::stage}, Entry::stage, stage_count()});
    sheet_.highlights.push_back({{kFirstRow, shop::paid, last, shop::paid},
                                 fmt::format("=ISTEXT(${}{})", column_letters(shop::paid), kFirstRow + 1),
                                 Tone::warning});
    sheet_.highlights.push_back({{kFirstRow, shop::stage, last, shop::remarks},
                                 fmt::format("=$A{}=\"x\"", kFirstRow + 1),
                                 Tone::settled});
    name_rows(book_, sheet_, names::shop_tick, shop::tick, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_stage, shop::stage, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_supplier, shop::supplier, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_planned, shop::planned, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_paid, shop::paid, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_kind, shop::kind, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_counts, shop::counts, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_packs, shop::packs, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_goods, shop::goods, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_before, shop::before_allowance, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_line_planned, shop::line_planned, kFirstRow, last);
    name_rows(book_, sheet_, names::shop_line_counts, shop::line_counts, kFirstRow, last);
    sheet_.filter_rows = last - kHeaderRow;
    book_.sheets.push_back(std::move(sheet_));
  }

  /// The number of the last stage.
  int stage_count() const {
    if (!outcome_.stages.empty()) return outcome_.stages.back().number;
    return past_.stages.empty() ? 0 : past_.stages.back().number;
  }

  Book& book_;
  const Outcome& outcome_;
  const Past& past_;
  Sheet sheet_;
  int row_;
  int spare_ = 0;            ///< first spare line
  std::vector<int> blocks_;  ///< bands: what prints on one page where it can
};

}  // namespace

std::string kind_word(planning::PastKind kind) {
  static constexpr const char* words[] = {"part", "consumable", "tool",      "delivery",
                                          "hire", "fee",        "allowance", "besides"};
  return words[static_cast<std::size_t>(kind)];
}

std::vector<std::string> states_of_things() {
  std::vector<std::string> words{kArrived};
  for (std::string way : log::ways_to_go()) {
    std::replace(way.begin(), way.end(), '-', ' ');
    words.push_back(way);
  }
  return words;
}

std::string past_key(const planning::PastPurchase& purchase) {
  return fmt::format("past:{}:{}", purchase.entry, purchase.key);
}

void add_shopping(Book& book, const Outcome& outcome, const Past& past) {
  Shopping(book, outcome, past).fill();
}

}  // namespace fettlefund::sheets
