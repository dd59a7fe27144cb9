#include <algorithm>
#include <tuple>

#include "lib/outcome/view.hpp"

namespace fettlefund::planning {
namespace {

/// Who uses the article or tool (index into Build::articles) in a stage, and what rules added to it.
struct Users {
  std::vector<NeededBy> all;
  Quantity amount = 0, by_rule = 0;
  std::string why;
};

template <class Entry>
void add_user(Users& users, const Entry& entry, bool removal, const Demand& demand, int article) {
  for (const ArticleDemand& line : demand.articles) {
    if (line.article != article) continue;
    users.all.push_back({entry.id, entry.name, removal});
    users.amount += line.amount;
    users.by_rule += line.by_rule;
    if (users.why.empty()) users.why = line.why;
  }
}

Users users_of_tool(const View& view, int stage, int tool) {
  Users users;
  const auto has = [tool](const std::vector<int>& tools) {
    return std::binary_search(tools.begin(), tools.end(), tool);
  };
  for (const int j : view.cost(stage).jobs) {
    if (has(tools_of_job(view, j, stage))) users.all.push_back({view.job(j).id, view.job(j).name, false});
  }
  for (const int r : view.cost(stage).opened) {
    if (has(tools_of_removal(view, r, stage)))
      users.all.push_back({view.removal(r).id, view.removal(r).name, true});
  }
  return users;
}

Users users_of(const View& view, int stage, int article) {
  Users users;
  for (const int j : view.cost(stage).jobs) {
    add_user(users, view.job(j), false, view.staging.demands.jobs[static_cast<std::size_t>(j)], article);
  }
  for (const int r : view.cost(stage).opened) {
    add_user(users, view.removal(r), true, view.staging.demands.removals[static_cast<std::size_t>(r)],
             article);
  }
  return users;
}

ShoppingLine line_of(const View& view, int stage, const budgets::OrderLine& from) {
  const bool tool = from.tool >= 0;
  const int index = tool ? view.staging.tool_of[static_cast<std::size_t>(from.tool)]
                         : view.staging.article_of[static_cast<std::size_t>(from.article)];
  const build::Article& article = view.build.articles[static_cast<std::size_t>(index)];
  const auto& offers = tool ? view.staging.tool_offers[static_cast<std::size_t>(from.tool)]
                            : view.staging.article_offers[static_cast<std::size_t>(from.article)];
  const build::Offer& offer =
      article.offers[static_cast<std::size_t>(offers[static_cast<std::size_t>(from.offer)])];
  const Users users =
      tool ? users_of_tool(view, from.for_stage, from.tool) : users_of(view, from.for_stage, index);
  const bool forgotten = users.amount > 0 && users.by_rule == users.amount;
  ShoppingLine line;
  line.key =
      article.id + "@" + std::to_string(view.place_of(from.for_stage) + 1) + (forgotten ? "#rule" : "");
  line.article = article.id;
  line.name = article.name;
  line.kind = article.kind;
  line.stage = view.place_of(stage);
  line.for_stage = view.place_of(from.for_stage);
  line.packs = from.packs;
  line.pack = article.pack;
  line.unit = article.unit;
  line.price = offer.price.likely;
  line.amount = from.amount;
  line.arrives = view.stage(stage).payday + offer.lead_days;
  const bool joins_an_order = offer.supplier.find('@') != build::Id::npos;  // its last day is the plan's own
  if (!joins_an_order) line.last_order_day = offer.until;
  line.needed_by = users.all;
  if (forgotten) line.reason = users.why;
  return line;
}

/// By stage, articles before tools, in file order.
std::vector<budgets::OrderLine> lines_in_file_order(const View& view, std::vector<budgets::OrderLine> lines) {
  const auto place = [&](const budgets::OrderLine& line) {
    const bool tool = line.tool >= 0;
    const auto index = static_cast<std::size_t>(tool ? line.tool : line.article);
    const Staging& staging = view.staging;
    return std::tuple(line.for_stage, tool, tool ? staging.tool_of[index] : staging.article_of[index]);
  };
  std::stable_sort(lines.begin(), lines.end(),
                   [&](const auto& a, const auto& b) { return place(a) < place(b); });
  return lines;
}

}  // namespace

std::vector<OrderView> orders_of(const View& view, int stage) {
  std::vector<OrderView> orders;
  for (const budgets::Order& from : view.plan.orders) {
    if (from.stage != stage) continue;
    const build::Supplier& supplier = view.build.suppliers[static_cast<std::size_t>(from.supplier)];
    OrderView& to = orders.emplace_back();
    to.stage = view.place_of(stage);
    to.supplier = supplier.open_order_of.empty() ? supplier.id : supplier.open_order_of;
    to.terms = supplier.id;
    to.supplier_name = supplier.name;
    for (const budgets::OrderLine& line : lines_in_file_order(view, from.lines))
      to.lines.push_back(line_of(view, stage, line));
    to.goods = from.goods;
    to.delivery = from.delivery;
    to.free_from = supplier.free_from;
    to.delivery_charge = supplier.delivery;
  }
  return orders;
}

}  // namespace fettlefund::planning
