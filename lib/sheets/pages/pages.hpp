#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"
#include "lib/progress/past.hpp"
#include "lib/sheets/book/cells.hpp"

/// The sheets of the workbook, one function each, and the places that refer to each other.
namespace fettlefund::sheets {

using planning::Outcome;
using planning::Past;

/// `past`: what has happened up to the day from which the outcome is planned; nothing has where it is empty.
Book make_book(const Outcome& outcome, const Past& past = {});

/// Names of ranges that the formulas of other sheets use.
namespace names {
inline constexpr const char* opening_cash = "opening_cash";
inline constexpr const char* allowance_percent = "allowance_percent";
inline constexpr const char* reserve = "reserve";
inline constexpr const char* keep_back = "keep_back";
inline constexpr const char* shop_tick = "shop_tick";
inline constexpr const char* shop_stage = "shop_stage";
inline constexpr const char* shop_supplier = "shop_supplier";
inline constexpr const char* shop_planned = "shop_planned";
inline constexpr const char* shop_paid = "shop_paid";
inline constexpr const char* shop_counts = "shop_counts";
inline constexpr const char* shop_kind = "shop_kind";
// Hidden columns that totals add up: what a line comes to, wherever sorting puts it.
inline constexpr const char* shop_packs = "shop_packs";
inline constexpr const char* shop_goods = "shop_goods";                ///< articles, as planned
inline constexpr const char* shop_before = "shop_before_allowance";    ///< all but the allowance, as planned
inline constexpr const char* shop_line_planned = "shop_line_planned";  ///< all lines
inline constexpr const char* shop_line_counts = "shop_line_counts";    ///< all lines
inline constexpr const char* forgotten_stage = "forgotten_stage";
inline constexpr const char* forgotten_paid = "forgotten_paid";
inline constexpr const char* work_tick = "work_tick";
inline constexpr const char* job_stage = "job_stage";
inline constexpr const char* job_hours = "job_hours";
}  // namespace names

/// Each page adds its names to `book.names`.
void add_overview(Book& book, const Outcome& outcome, const Past& past);
void add_shopping(Book& book, const Outcome& outcome, const Past& past);
void add_forgotten(Book& book, const Outcome& outcome);
void add_jobs(Book& book, const Outcome& outcome, const Past& past);
void add_work_order(Book& book, const Outcome& outcome);
void add_while_off(Book& book, const Outcome& outcome);
void add_tools(Book& book, const Outcome& outcome);
/// Nothing where the build describes no drive train.
void add_drive(Book& book, const Outcome& outcome);
void add_suppliers(Book& book, const Outcome& outcome, const Past& past);
void add_spending(Book& book, const Outcome& outcome, const Past& past);
/// Nothing where nothing is recorded.
void add_history(Book& book, const Outcome& outcome, const Past& past);
void add_notes(Book& book, const Outcome& outcome);
/// Hidden: what was written under which key, so that the workbook can be read back. Must come last.
void add_plan_record(Book& book, const Outcome& outcome);

inline constexpr const char* kOverview = "Overview";
inline constexpr const char* kShopping = "Shopping";
inline constexpr const char* kForgotten = "Easily forgotten";
inline constexpr const char* kJobs = "Jobs";
inline constexpr const char* kWorkOrder = "Work order";
inline constexpr const char* kWhileOff = "While it is off";
inline constexpr const char* kTools = "Tools";
inline constexpr const char* kDrive = "Drive train";
inline constexpr const char* kSuppliers = "Suppliers";
inline constexpr const char* kSpending = "Spending";
inline constexpr const char* kHistory = "History";
inline constexpr const char* kPlanRecord = "Plan record";

/// Columns of the sheet Shopping.
namespace shop {
enum Column {
  tick,
  stage,
  supplier,
  article,
  packs,
  pack,
  price,
  planned,
  paid,
  arrives,
  remarks,  ///< the last that is printed
  counts,
  bought_on,
  needed_for,
  own_remark,
  kind,
  key,
  goods,
  before_allowance,
  line_planned,
  line_counts,
  state,      ///< only where something was bought before
  came_back,  ///< as `state`
  state_on    ///< as `state`
};
}  // namespace shop

/// "part", "besides": what a line is in the hidden column Kind.
std::string kind_word(planning::PastKind kind);

/// What may be said of a thing in the column State of Shopping and of a job in that of Jobs, and how a log
/// has it.
inline constexpr const char* kArrived = "arrived";
inline constexpr const char* kBegun = "begun";
inline constexpr const char* kGivenUp = "given up";
std::vector<std::string> states_of_things();

/// "past:<entry>:<key>": of the row of a purchase that is in the log.
std::string past_key(const planning::PastPurchase& purchase);

/// By whose terms it is delivered: its supplier's, or those of an order that is out already.
const build::Id& terms_of(const planning::OrderView& order);

/// Suppliers with an order in the plan, by their first order; the place of one of them on its sheet.
std::vector<const planning::OrderView*> suppliers_of(const Outcome& outcome);
std::string delivery_charge_cell(const Outcome& outcome, const build::Id& supplier);
std::string free_from_cell(const Outcome& outcome, const build::Id& supplier);

/// Title row, header row and their columns, as every sheet begins. `note` stands under the title, unless it
/// is empty. The header stands in row 3.
struct Heading {
  std::string name;    ///< of a column
  double least, most;  ///< widths
  enum Kind { text, figures, hidden } kind = text;
};
inline constexpr int kHeaderRow = 3;
Sheet begin_sheet(const std::string& name, const std::string& title, const std::string& note,
                  const std::vector<Heading>& headings);

/// Gives what an upright page has left beside the other printed columns to these, each its part of it. For
/// the texts put so far.
struct Share {
  int column;
  double part;  ///< of 1
};
void share_page(Sheet& sheet, const std::vector<Share>& shares);

/// Makes a column so wide that the texts in it, put so far, take no more than so many lines, and no wider
/// than `most`.
void fit_lines(Sheet& sheet, int column, int lines, double most);

/// A note under the title, wrapped over the columns that are printed. Once their widths stand.
void put_note(Sheet& sheet, const std::string& note);

/// A band over `columns` columns that begins with `text`.
void put_band(Sheet& sheet, int row, int columns, const std::string& text);

/// Begins a new printed page at those of `blocks` (rows that begin a block, ascending) that would not end on
/// the page they begin on, unless that page would stay half empty. The last block ends above `end_row`.
void keep_together(Sheet& sheet, const std::vector<int>& blocks, int end_row);

/// Where the last printed page would hold little, begins it with rows of the page before. Rows end above
/// `end_row`.
void share_last_page(Sheet& sheet, int end_row);

/// Rows of one line that the last printed page still has room for, below the row above `end_row`.
int lines_left(const Sheet& sheet, int end_row);

/// Points of rows that fit on a printed page of the sheet, at the scale that makes it one page wide.
double page_points(const Sheet& sheet);

/// Column `column` from `first_row` to `last_row` under a name.
void name_rows(Book& book, const Sheet& sheet, const char* name, int column, int first_row, int last_row);

/// "ROUND(inner,2)": to the currency's decimals.
std::string rounded(const Book& book, const std::string& inner);

}  // namespace fettlefund::sheets
