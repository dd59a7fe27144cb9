#include "lib/progress/open_order.hpp"

#include <algorithm>

#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

using Kind = ShoppingKey::Kind;

/// What of a supplier's order of the day is recorded.
struct Ordered {
  bool any = false, delivery_paid = false;
  Money goods;
};

Ordered ordered(const build::Build& build, const History& history, const build::Id& supplier, Date day) {
  Ordered so_far;
  for (const Bought& bought : history.bought) {
    if (bought.date != day || supplier_of(build, bought) != supplier) continue;
    so_far.any = true;
    so_far.delivery_paid |= bought.what.kind == Kind::delivery;
    if (bought.what.kind == Kind::article) so_far.goods += bought.paid;
  }
  return so_far;
}

/// The supplier as it deals with the rest of the order.
build::Supplier rest_of(const build::Supplier& supplier, const Ordered& so_far, Date day, int stage) {
  build::Supplier rest = supplier;
  rest.id = supplier.id + "@" + std::to_string(stage);
  rest.name = open_order_name(supplier.name, day);
  rest.open_order_of = supplier.id;
  const bool free = so_far.delivery_paid || (supplier.free_from && so_far.goods >= *supplier.free_from);
  if (free) {
    rest.delivery = Money();
    rest.free_from.reset();
  } else if (rest.free_from) {
    rest.free_from = *supplier.free_from - std::max(so_far.goods, Money());
  }
  return rest;
}

void move_offers(build::Build& build, const build::Id& from, const build::Id& to, Date day) {
  for (build::Article& article : build.articles) {
    const std::size_t count = article.offers.size();
    for (std::size_t i = 0; i < count; ++i) {
      const build::Offer offer = article.offers[i];
      const bool today = (!offer.from || *offer.from <= day) && (!offer.until || *offer.until >= day);
      if (offer.supplier != from || !today) continue;
      if (offer.until && *offer.until == day) {
        article.offers[i].supplier = to;
        continue;
      }
      article.offers[i].from = day + 1;
      article.offers.push_back(offer);
      article.offers.back().supplier = to;
      article.offers.back().until = day;
    }
  }
}

}  // namespace

std::string open_order_name(const std::string& supplier_name, Date day) {
  return supplier_name + ", order of " + budgets::write_date(day);
}

bool names_supplier(std::string_view shown, const std::string& supplier_name) {
  return shown == supplier_name || shown.starts_with(supplier_name + ", order of ");
}

build::Id only_supplier(const build::Article& article) {
  const auto& offers = article.offers;
  const bool one = !offers.empty() && std::all_of(offers.begin(), offers.end(), [&](const auto& offer) {
    return offer.supplier == offers.front().supplier;
  });
  return one ? offers.front().supplier : build::Id();
}

build::Id supplier_of(const build::Build& build, const Bought& bought) {
  if (bought.what.kind == Kind::delivery) return bought.what.id;
  if (bought.what.kind != Kind::article) return {};
  if (!bought.supplier.empty()) return bought.supplier;
  const int a = find_id(build.articles, bought.what.id);
  return a < 0 ? build::Id() : only_supplier(build.articles[static_cast<std::size_t>(a)]);
}

void keep_orders_open(build::Build& build, const History& history, Date day, int stage) {
  const std::size_t count = build.suppliers.size();
  for (std::size_t s = 0; s < count; ++s) {
    const build::Supplier supplier = build.suppliers[s];
    if (supplier.delivery == Money()) continue;
    const Ordered so_far = ordered(build, history, supplier.id, day);
    if (!so_far.any) continue;
    build.suppliers.push_back(rest_of(supplier, so_far, day, stage));
    move_offers(build, supplier.id, build.suppliers.back().id, day);
  }
}

}  // namespace fettlefund::planning
