#include <cstdlib>

#include "lib/log/entry.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/tellings.hpp"

#include <fmt/format.h>

/// Lines of the shopping list: what was bought, and what it comes to where no amount is typed.
namespace fettlefund::sheets {
namespace {

/// Of what is still to be bought.
bool is_article(const KeyedRow& row) {
  if (row.key.starts_with("past:")) return false;
  const Pair* kind = row.find("Kind");
  return kind && (kind->before == "part" || kind->before == "consumable" || kind->before == "tool");
}

std::string before(const KeyedRow& row, const std::string& heading) {
  const Pair* pair = row.find(heading);
  return pair ? pair->before : "";
}

/// "delivery:shop@2" to "shop".
std::string supplier_of(const std::string& key) {
  const std::size_t colon = key.find(':'), at = key.rfind('@');
  return key.substr(colon + 1, at - colon - 1);
}

}  // namespace

void Tellings::read_shopping(const KeyedRow& row) {
  to_.keys.insert(row.key);
  bool paid_good = true;
  const bool ticked = tick(row);
  const auto paid = limited(row, "Paid", paid_good);
  if (ticked || paid)
    tell_bought(row, paid, paid_good);
  else if (before(row, "Kind") == "delivery" && goods_bought(row))
    tell_silent_delivery(row);
  else
    tell_not_bought(row);
  remark(row, "Your remark", row.key);
}

/// Whether goods of the order that this delivery belongs to are ticked or paid. What is wrong with their
/// cells is told with their own rows.
bool Tellings::goods_bought(const KeyedRow& row) const {
  for (int at = row.row_before - 1;; --at) {
    const auto line = shopping_.find(at);
    const bool same = line != shopping_.end() && is_article(*line->second) &&
                      before(*line->second, "Supplier") == before(row, "Supplier");
    if (!same) return false;
    const StoredCell* paid = cell(*line->second, "Paid");
    const CellReading<bool> ticked = read_tick(cell(*line->second, "Tick"));
    if ((paid != nullptr && read_amount(paid, currency_).value) || ticked.value.value_or(false)) return true;
  }
}

void Tellings::tell_silent_delivery(const KeyedRow& row) {
  const std::size_t told = to_.remarkable.size();
  const auto amount = delivery(row);
  to_.remarkable.resize(told);  // what is wrong with the goods is told with their own rows
  if (amount && *amount > budgets::Money())
    to_.deliveries.push_back({row.sheet, row.key, before(row, "Supplier"), *amount});
}

/// The row of the delivery's supplier on its own sheet, or of its open order there.
const KeyedRow* Tellings::supplier_row(const std::string& delivery_key) const {
  auto supplier = suppliers_.find("supplier:" + delivery_key.substr(delivery_key.find(':') + 1));
  if (supplier == suppliers_.end()) supplier = suppliers_.find("supplier:" + supplier_of(delivery_key));
  return supplier == suppliers_.end() ? nullptr : supplier->second;
}

void Tellings::tell_not_bought(const KeyedRow& row) {
  bool good = true;
  for (const char* heading : {"Packs", "Price"}) {
    if (!changed(row, heading)) continue;
    if (heading == std::string("Packs")) packs_of(row);
    if (heading == std::string("Price")) limited(row, "Price", good);
    if (good)
      tell(false, row, heading,
           "changed, but not bought: it is not recorded; to plan with it put it into the build file");
  }
  for (const char* heading : {"Bought on", "Arrives"}) {
    if (changed(row, heading) && (day(row, heading, good) || good))
      tell(false, row, heading, "changed, but neither ticked nor paid: it is not recorded");
  }
}

void Tellings::tell_bought(const KeyedRow& row, const std::optional<budgets::Money>& paid, bool paid_good) {
  bool good = paid_good;
  const auto on = day(row, "Bought on", good);
  const auto arrives = day(row, "Arrives", good);
  const bool counted = row.find("Packs") && row.find("Packs")->input();
  const auto packs = counted ? packs_of(row) : std::optional<std::int64_t>(1);
  if (!packs || !good) return;
  if (*packs == 0) return tell(true, row, "Packs", "bought, but 0 packs");
  if (before(row, "Kind") == "allowance" && paid && *paid == budgets::Money()) return;  // nothing came up
  const auto plan = planned_before(row, *packs);
  if (paid && asks_about(row, *paid, plan)) return;
  const auto amount = paid ? paid : planned(row);
  if (!amount) return;
  if (changed(row, "Arrives") && !arrives)
    tell(false, row, "Arrives", "emptied; the day by the offer's lead time is recorded");
  const std::string place = row.place(paid ? "Paid" : "Tick");
  to_.said.push_back({row.sheet, place,
                      SaidBought{row.key,
                                 *packs,
                                 *amount,
                                 paid.has_value(),
                                 on,
                                 arrives,
                                 changed(row, "Arrives") && arrives,
                                 plan,
                                 {},
                                 before(row, "Supplier"),
                                 {}},
                      on ? row.place("Bought on") : ""});
}

std::optional<std::int64_t> Tellings::packs_of(const KeyedRow& row) {
  bool good = true;
  const auto packs = taken(row, "Packs", read_whole(cell(row, "Packs"), 0, log::most_packs), good);
  if (good && !packs) tell(true, row, "Packs", "the number of packs is missing");
  return packs;
}

std::optional<budgets::Money> Tellings::product(const KeyedRow& row) {
  bool good = true;
  const auto packs = packs_of(row);
  const auto price = limited(row, "Price", good);
  if (good && !price) tell(true, row, "Price", "the price is missing");
  if (!packs || !price) return std::nullopt;
  if (*packs > 0 && price->minor() > log::most_minor / *packs) {
    tell(true, row, "Price", "the amount is too large");
    return std::nullopt;
  }
  return *price * *packs;
}

std::optional<budgets::Money> Tellings::planned(const KeyedRow& row) {
  const std::string kind = before(row, "Kind");
  if (kind == "delivery") return delivery(row);
  if (kind != "allowance") return product(row);
  tell(true, row, "Paid",
       "the allowance is ticked, but not what came up; type it under Paid, 0 if nothing did");
  return std::nullopt;
}

/// As it was written; workbooks of earlier versions had it for typing.
std::optional<budgets::Money> Tellings::charged(const KeyedRow& supplier, const std::string& heading,
                                                bool& good) {
  const Pair* pair = supplier.find(heading);
  if (pair != nullptr && pair->input()) return limited(supplier, heading, good);
  if (pair == nullptr || pair->mark != 'm') return std::nullopt;
  return budgets::Money::of_minor(std::atoll(pair->before.c_str()));
}

/// As the sheet's formula: nothing where nothing is ordered or the goods reach the free-from amount.
std::optional<budgets::Money> Tellings::delivery(const KeyedRow& row) {
  budgets::Money goods;
  std::int64_t packs = 0;
  for (int at = row.row_before - 1;; --at) {
    const auto line = shopping_.find(at);
    const bool same = line != shopping_.end() && is_article(*line->second) &&
                      before(*line->second, "Supplier") == before(row, "Supplier");
    if (!same) break;
    const auto amount = product(*line->second);
    if (!amount) return std::nullopt;
    goods += *amount;
    packs += *packs_of(*line->second);
  }
  const KeyedRow* supplier = supplier_row(row.key);
  bool good = supplier != nullptr;
  if (!good) tell(true, row, "Tick", "what delivery comes to is not known: its supplier's row is gone");
  if (!good || packs == 0) return good ? std::optional(budgets::Money()) : std::nullopt;
  const auto charge = charged(*supplier, "Delivery charge", good);
  const auto free_from = charged(*supplier, "Free from", good);
  if (!good) return std::nullopt;
  return free_from && goods >= *free_from ? budgets::Money() : charge.value_or(budgets::Money());
}

}  // namespace fettlefund::sheets
