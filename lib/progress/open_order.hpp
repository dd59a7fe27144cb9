#pragma once
#include <string>
#include <string_view>

#include "lib/progress/history.hpp"

namespace fettlefund::planning {

/// What goes out on `day` to a supplier from whom something was bought on that day is one order with it: its
/// goods count towards free delivery, and its delivery is charged once. For each such supplier that charges
/// for delivery a further one is added to the build, "<id>@<stage>" by its id, with what is left to pay of
/// the charge and to order for the free-from amount; its offers are those that can be ordered on `day`.
/// `stage` (from 1) is the one whose orders go out on `day`.
void keep_orders_open(build::Build& build, const History& history, Date day, int stage);

/// The name of the supplier added for an order of that day: "Corner Shop, order of 2027-01-01".
std::string open_order_name(const std::string& supplier_name, Date day);

/// Whether `shown` is the supplier's name, or its name with any day's open order.
bool names_supplier(std::string_view shown, const std::string& supplier_name);

/// Who offers the article, where one alone does; else empty.
build::Id only_supplier(const build::Article& article);

/// Whom a purchase was ordered from: as recorded, else the only one who offers it; empty: not known.
build::Id supplier_of(const build::Build& build, const Bought& bought);

}  // namespace fettlefund::planning
