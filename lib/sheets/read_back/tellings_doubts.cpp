#include <cmath>
#include <cstdlib>

#include "lib/build/fingerprint.hpp"
#include "lib/sheets/read_back/tellings.hpp"

#include <fmt/format.h>

/// What is not taken without a question, and what names a purchase that no plan names.
namespace fettlefund::sheets {
namespace {

using budgets::Money;

/// A typed number, not a text or a formula.
bool bare_number(const StoredCell* cell) {
  return cell != nullptr && cell->kind == StoredCell::Kind::number && !cell->computed;
}

/// Whole, and a day between 2000 and 2100 if it were one: what a spreadsheet makes of "12/5".
bool could_be_day(const StoredCell& cell) {
  return cell.number == std::floor(cell.number) && cell.number >= 36'526 && cell.number <= 73'415;
}

std::optional<std::int64_t> figure_before(const KeyedRow& row, const std::string& heading, char mark) {
  const Pair* pair = row.find(heading);
  if (pair == nullptr || (pair->mark | 0x20) != mark) return std::nullopt;
  return std::atoll(pair->before.c_str());
}

}  // namespace

std::optional<Money> Tellings::planned_before(const KeyedRow& row, std::int64_t packs) const {
  if (const auto price = figure_before(row, "Price", 'm')) return Money::of_minor(*price) * packs;
  if (!row.key.starts_with("delivery:")) return std::nullopt;
  const KeyedRow* supplier = supplier_row(row.key);
  if (supplier == nullptr) return std::nullopt;
  const auto charge = figure_before(*supplier, "Delivery charge", 'm');
  return charge ? std::optional(Money::of_minor(*charge)) : std::nullopt;
}

/// Far: ten times the plan or a fiftieth of it, from 50 currency units on; or twice the plan and like a day.
bool Tellings::asks_about(const KeyedRow& row, Money paid, std::optional<Money> planned) {
  const StoredCell* typed = cell(row, "Paid");
  if (!bare_number(typed)) return false;
  const auto least = static_cast<std::int64_t>(50 * std::pow(10, currency_.digits));
  const std::int64_t is = paid.minor(), was = planned ? planned->minor() : 0;
  const bool like_day = could_be_day(*typed) && is / 2 > was;
  const bool far = planned && ((is >= least && is / 10 > was) || (is > 0 && was >= least && is < was / 50));
  if (!like_day && !far) return false;
  const std::string amount = budgets::write_money(paid, currency_);
  std::string text = amount;
  if (planned) text += fmt::format(" is far from the {} planned", budgets::write_money(*planned, currency_));
  if (like_day)
    text += fmt::format("{} could be the day {}", planned ? " and" : "",
                        budgets::write_date(budgets::Date{static_cast<std::int32_t>(typed->number) -
                                                          (from_1904_ ? 24'107 : 25'569)}));
  tell(true, row, "Paid",
       fmt::format("{}; if it is right, type it as a text with its currency: {} {}", text, amount,
                   currency_.code));
  return true;
}

/// Far: a quarter of the plan or less, ten times or more, and three quarters of an hour or more away. A clock
/// time of 6:00 typed into a cell for figures is 0.25.
bool Tellings::asks_about_hours(const KeyedRow& row, std::int64_t minutes) {
  const auto planned = figure_before(row, "Hours of the job", 'h');
  const StoredCell* typed = cell(row, "Hours taken");
  if (!planned || *planned == 0 || !bare_number(typed)) return false;
  const bool little = minutes * 4 <= *planned && *planned - minutes >= 45;
  const bool much = minutes >= *planned * 10 && minutes - *planned >= 600;
  if (!little && !much) return false;
  const std::string hours = number_text(typed->number);
  tell(true, row, "Hours taken",
       fmt::format("{} h is far from the {} h planned; if it is right, type it as a text with its unit: {} h",
                   hours, number_text(static_cast<double>(*planned) / 60), hours));
  return true;
}

/// By what it says, so that two people's copies of one workbook do not take different things for one, nor one
/// thing for two: the first free line of either copy has the same key. Alike lines of one copy are told apart
/// by their order.
std::string Tellings::key_besides(const KeyedRow& row, const std::string& what,
                                  std::optional<std::int64_t> stage) {
  build::Fingerprint print;
  print.add(row.sheet);
  print.add(what.empty() ? row.key : what);
  print.add(std::to_string(stage.value_or(0)));
  const std::string kind = row.key.substr(0, row.key.find(':')), said = print.write().substr(0, 8);
  const int nth = ++besides_[kind + said];
  return fmt::format("{}:{}{}:{}", kind, said, nth > 1 ? "." + std::to_string(nth) : "", plan_);
}

}  // namespace fettlefund::sheets
