#include <algorithm>

#include "lib/sheets/pages/pages.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

namespace {

enum Column { supplier, charge, free_from, planned, counts, key };
constexpr int kFirstRow = kHeaderRow + 1;

int row_of(const Outcome& outcome, const build::Id& id) {
  const auto used = suppliers_of(outcome);
  const auto found =
      std::find_if(used.begin(), used.end(), [&](const auto* order) { return terms_of(*order) == id; });
  return kFirstRow + static_cast<int>(found - used.begin());
}

std::string on_sheet(int row, int column) { return std::string(kSuppliers) + "!" + absolute(row, column); }

/// As the sheet's formulas add it up: everything of Shopping under the supplier's name.
Money spent_at(const Outcome& outcome, const Past& past, const std::string& name,
               Money planning::PastPurchase::*amount) {
  Money sum;
  for (const auto& purchase : past.purchases)
    if (purchase.supplier == name) sum += purchase.*amount;
  for (const auto& stage : outcome.stages)
    for (const auto& order : stage.orders)
      if (order.supplier_name == name) sum += order.goods + order.delivery;
  return sum;
}

}  // namespace

const build::Id& terms_of(const planning::OrderView& order) {
  return order.terms.empty() ? order.supplier : order.terms;
}

std::vector<const planning::OrderView*> suppliers_of(const Outcome& outcome) {
  std::vector<const planning::OrderView*> used;
  for (const auto& stage : outcome.stages)
    for (const auto& order : stage.orders)
      if (std::none_of(used.begin(), used.end(),
                       [&](const auto* known) { return terms_of(*known) == terms_of(order); }))
        used.push_back(&order);
  return used;
}

std::string delivery_charge_cell(const Outcome& outcome, const build::Id& id) {
  return on_sheet(row_of(outcome, id), charge);
}

std::string free_from_cell(const Outcome& outcome, const build::Id& id) {
  return on_sheet(row_of(outcome, id), free_from);
}

void add_suppliers(Book& book, const Outcome& outcome, const Past& past) {
  Sheet sheet = begin_sheet(
      kSuppliers, "Suppliers",
      "Delivery as each supplier charges it for one order, by the build file. What an order really cost is "
      "typed in Shopping.",
      {{"Supplier", 24, 40},
       {"Delivery charge", 12, 16, Heading::figures},
       {"Free from", 12, 16, Heading::figures},
       {"Planned there", 13, 16, Heading::figures},
       {"Counts there", 13, 16, Heading::figures},
       {"Key", 10, 30, Heading::hidden}});
  int row = kFirstRow;
  for (const auto* order : suppliers_of(outcome)) {
    sheet.put(row, supplier, order->supplier_name, Look::strong);
    sheet.put(row, charge, order->delivery_charge);
    if (order->free_from)
      sheet.put(row, free_from, *order->free_from);
    else
      sheet.await(row, free_from, Shown::money, Look::body);
    const auto there = [&](const char* amounts) {
      return rounded(book, fmt::format("SUMPRODUCT(({}={})*1,{})", names::shop_supplier,
                                       reference(row, supplier), amounts));
    };
    const auto spent = [&](Money planning::PastPurchase::*amount) {
      return spent_at(outcome, past, order->supplier_name, amount);
    };
    sheet.compute(row, planned, there(names::shop_planned), spent(&planning::PastPurchase::planned));
    sheet.compute(row, counts, there(names::shop_counts), spent(&planning::PastPurchase::paid));
    sheet.put(row, key, "supplier:" + terms_of(*order), Look::note);
    ++row;
  }
  book.sheets.push_back(std::move(sheet));
}

}  // namespace fettlefund::sheets
