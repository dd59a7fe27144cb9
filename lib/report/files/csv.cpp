#include "lib/report/files/csv.hpp"

#include <algorithm>
#include <array>

#include "lib/outcome/words.hpp"

#include <fmt/format.h>

namespace fettlefund::report {
namespace {

using planning::Outcome;
using planning::StageView;

constexpr std::string_view ends_cell = ";\t\r\n";
// = + - @ | as full-width forms, U+FF1D, U+FF0B, U+FF0D, U+FF20, U+FF5C.
constexpr std::array<std::string_view, 11> formula_signs = {
    "=",           "+", "-", "@", "|", "'", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0",
    "\xEF\xBD\x9C"};

bool begins_cell(std::string_view text, std::size_t at) {
  return at == 0 || ends_cell.find(text[at - 1]) != std::string_view::npos;
}

/// A tab or carriage return in front: some programs drop it and take what follows as typed.
bool begins_with_break(std::string_view text) { return text.starts_with('\t') || text.starts_with('\r'); }

bool looks_like_formula(std::string_view rest) {
  rest.remove_prefix(std::min(rest.find_first_not_of(" \t\r\n"), rest.size()));
  return std::any_of(formula_signs.begin(), formula_signs.end(),
                     [&](std::string_view sign) { return rest.starts_with(sign); });
}

/// One record in the making. Figures and dates are ours; texts come from the build.
struct Record {
  std::string stage, payday, supplier, kind, what, packs, pack, unit, price, amount, for_stage, bench,
      arrives, until, needed_for, why, key;
};

class Table {
 public:
  explicit Table(const Outcome& outcome) : outcome_(outcome) {}

  std::string whole() {
    text_ =
        "stage,payday,supplier,kind,what,packs,pack,unit,price,amount,currency,for stage,bench date,"
        "arrives,order until,needed for,why,key\r\n";
    for (const StageView& stage : outcome_.stages) add(stage);
    return std::move(text_);
  }

 private:
  void add(const StageView& stage) {
    for (const planning::OrderView& order : stage.orders) add(stage, order);
    for (const auto& hire : stage.hires) put(keyed(stage, "hire", hire.tool, hire.name, hire.amount));
    for (const auto& fee : stage.fee_lines) put(keyed(stage, "fee", fee.job, fee.name, fee.amount));
    if (stage.allowance > budgets::Money()) {
      put(plain(stage, "unforeseen", "for the unforeseen", stage.allowance));
    }
    for (const auto& reminder : stage.reminders) {
      if (!reminder.bought) put(remember(stage, reminder));
    }
  }

  void add(const StageView& stage, const planning::OrderView& order) {
    for (const auto& line : order.lines) {
      Record record = bought(stage, line);
      record.supplier = order.supplier_name;
      put(record);
    }
    if (order.delivery == budgets::Money()) return;
    Record record = keyed(stage, "delivery", order.supplier, "delivery", order.delivery);
    record.supplier = order.supplier_name;
    put(record);
  }

  Record begun(const StageView& stage, const char* kind, const std::string& what) const {
    Record record;
    record.stage = std::to_string(stage.number);
    record.payday = budgets::write_date(stage.payday);
    record.kind = kind;
    record.what = what;
    return record;
  }

  Record plain(const StageView& stage, const char* kind, const std::string& what,
               budgets::Money amount) const {
    Record record = begun(stage, kind, what);
    record.amount = money(amount);
    return record;
  }

  /// A line with the key that `record BUILD bought` takes for it.
  Record keyed(const StageView& stage, const std::string& kind, const planning::Id& id,
               const std::string& what, budgets::Money amount) const {
    Record record = plain(stage, kind.c_str(), what, amount);
    record.key = kind + ":" + id + "@" + record.stage;
    return record;
  }

  Record bought(const StageView& stage, const planning::ShoppingLine& line) const {
    static constexpr const char* kinds[] = {"part", "consumable", "tool"};
    Record record = plain(stage, kinds[static_cast<int>(line.kind)], line.name, line.amount);
    record.packs = std::to_string(line.packs);
    record.pack = planning::amount_text(line.pack);
    record.unit = line.unit;
    record.price = money(line.price);
    record.for_stage = std::to_string(line.for_stage + 1);
    record.bench = budgets::write_date(
        outcome_.stages[static_cast<std::size_t>(line.for_stage - outcome_.build->money.stages_over)].bench);
    record.arrives = budgets::write_date(line.arrives);
    if (line.last_order_day) record.until = budgets::write_date(*line.last_order_day);
    std::vector<std::string> users;
    for (const auto& user : line.needed_by) users.push_back(user.name);
    record.needed_for = planning::list_text(users);
    record.why = line.reason;
    record.key = line.key;
    return record;
  }

  Record remember(const StageView& stage, const planning::Reminder& reminder) const {
    Record record = begun(stage, "easily forgotten", reminder.article);
    record.pack = planning::amount_text(reminder.amount);
    record.unit = reminder.unit;
    record.for_stage = record.stage;
    record.bench = budgets::write_date(stage.bench);
    record.needed_for = goods::who_needs(reminder);
    record.why = reminder.why;
    record.key = reminder.key;
    return record;
  }

  std::string money(budgets::Money amount) const {
    return budgets::write_money(amount, outcome_.build->currency);
  }

  void put(const Record& r) {
    const std::string currency(outcome_.build->currency.code);
    const std::string* const fields[] = {
        &r.stage,  &r.payday, &r.supplier,  &r.kind,  &r.what,    &r.packs, &r.pack,       &r.unit, &r.price,
        &r.amount, &currency, &r.for_stage, &r.bench, &r.arrives, &r.until, &r.needed_for, &r.why,  &r.key};
    const char* between = "";
    for (const std::string* field : fields) {
      (text_ += between) += csv_field(harmless(*field));
      between = ",";
    }
    text_ += "\r\n";
  }

  const Outcome& outcome_;
  std::string text_;
};

}  // namespace

std::string harmless(std::string_view text) {
  std::string safe;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool hidden = at == 0 && begins_with_break(text);
    if (hidden || (begins_cell(text, at) && looks_like_formula(text.substr(at)))) safe += '\'';
    safe += text[at];
  }
  return safe;
}

std::string restored(std::string_view text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] != '\'' || !begins_cell(text, at)) plain += text[at];
  }
  return plain;
}

std::string csv_field(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + '"';
}

std::string shopping_csv(const planning::Outcome& outcome) { return Table(outcome).whole(); }

}  // namespace fettlefund::report
