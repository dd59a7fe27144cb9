#include "lib/build/read/sections.hpp"
#include "lib/fitment/torque.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

constexpr int most_days = 36'500;

void check_order(const Fields& fields, const std::optional<Date>& from, const std::optional<Date>& until) {
  if (from && until && *until < *from)
    fields.context().findings.error(fields.find("until")->span,
                                    fmt::format("a day not before {}", budgets::write_date(*from)));
}

/// low <= likely <= high, else the one that is too small is pointed at. `one` says what each of them is.
template <class Spread>
void check_rising(const Fields& fields, const Spread& spread, const std::string& one) {
  Findings& findings = fields.context().findings;
  if (spread.likely < spread.low) findings.error(fields.find("likely")->span, one + " not below \"low\"");
  if (spread.high < spread.likely) findings.error(fields.find("high")->span, one + " not below \"likely\"");
}

/// Reads low, likely and high.
template <class Spread, class Reader>
void read_spread(const Fields& fields, const Reader& read, const std::string& one, Spread& spread) {
  const bool low = fields.get("low", spread.low, read);
  const bool likely = fields.get("likely", spread.likely, read);
  const bool high = fields.get("high", spread.high, read);
  if (low && likely && high) check_rising(fields, spread, one);
}

std::optional<Price> read_price(Context& context, const Node& node) {
  if (node.kind != NodeKind::object) {
    const auto amount = read_money_from_zero(context, node);
    if (!amount) return {};
    return Price{*amount, *amount, *amount};
  }
  Price price;
  const Fields fields(context, node, Part::price);
  read_spread(fields, read_money_from_zero, "an amount", price);
  return price;
}

/// A lead time: days, or low, likely and high. Absent or wrong, both targets stay as they are.
void read_lead(const Fields& fields, int& days, std::optional<LeadSpread>& spread) {
  const Node* node = fields.find("lead_days");
  if (node == nullptr || node->kind != NodeKind::object) {
    fields.get("lead_days", days, Whole{0, most_days});
    return;
  }
  LeadSpread read;
  read_spread(Fields(fields.context(), *node, Part::lead), Whole{0, most_days}, "days", read);
  days = read.likely;
  spread = read;
}

/// An offer without lead time of its own gets -1; its supplier's is filled in later.
std::optional<Offer> read_offer(Context& context, const Node& node) {
  Offer offer;
  offer.lead_days = -1;
  const Fields fields(context, node, Part::offer);
  fields.get("supplier", offer.supplier, Reference{&Ids::suppliers, "a supplier"});
  fields.get("price", offer.price, read_price);
  read_lead(fields, offer.lead_days, offer.lead_spread);
  fields.get("from", offer.from, read_day);
  fields.get("until", offer.until, read_day);
  check_order(fields, offer.from, offer.until);
  return offer;
}

std::optional<DateRange> read_borrow(Context& context, const Node& node) {
  DateRange range;
  const Fields fields(context, node, Part::borrow);
  const bool from = fields.get("from", range.from, read_day);
  const bool until = fields.get("until", range.until, read_day);
  if (from && until) check_order(fields, range.from, range.until);
  return range;
}

std::optional<ArticleKind> read_kind(Context& context, const Node& node) {
  const auto word = OneOf{{"part", "consumable", "tool"}}(context, node);
  if (!word) return {};
  return *word == "part" ? ArticleKind::part : *word == "tool" ? ArticleKind::tool : ArticleKind::consumable;
}

/// The marked range of a torque wrench: from and to, or only to.
void read_range(const Fields& fields, Article& article) {
  std::vector<std::string> range;
  if (!fields.get("range", range, list_of(read_torque))) return;
  const Node& node = *fields.find("range");
  if (node.items.empty() || node.items.size() > 2)
    fields.context().findings.error(node.span, "the lowest and the highest torque, or only the highest");
  if (range.size() != node.items.size() || range.empty() || range.size() > 2) return;
  if (range.size() == 2) article.range_from = range[0];
  article.range_to = range.back();
  if (fitment::read_torque(range.back()).written->torque < fitment::read_torque(range[0]).written->torque)
    fields.context().findings.error(node.items[1].span, "a torque not below the lowest");
}

/// Keys that mean nothing for the article's kind would be passed over in silence: they are errors.
void check_kind(const Fields& fields, ArticleKind kind) {
  Findings& findings = fields.context().findings;
  const bool tool = kind == ArticleKind::tool;
  for (const std::string_view key : {"hire", "borrow", "range", "sizes"})
    if (!tool && fields.has(key))
      findings.error(fields.find(key)->span, fmt::format("\"{}\" only at a tool", key));
  for (const std::string_view key : {"pack", "keeps_days", "mates"})
    if (tool && fields.has(key))
      findings.error(fields.find(key)->span, fmt::format("no \"{}\" at a tool", key));
}

void read_tool_keys(const Fields& fields, Article& article) {
  fields.get("hire", article.hire, read_money_from_zero);
  fields.get("borrow", article.borrow, list_of(read_borrow));
  fields.get("sizes", article.sizes, read_words);
  read_range(fields, article);
}

/// What is used up; a tool is told so.
std::optional<Id> read_used(Context& context, const Node& node) {
  if (node.kind != NodeKind::text || !context.ids.tools.has(node.text))
    return Reference{&Ids::goods, "a part or a consumable"}(context, node);
  context.findings.error(node.span, "a part or a consumable; tools are named under \"tools\"");
  return {};
}

}  // namespace

void read_supplier(Context& context, const Node& node, Supplier& supplier) {
  const Fields fields(context, node, Part::supplier);
  fields.get("name", supplier.name, read_line);
  fields.get("delivery", supplier.delivery, read_money_from_zero);
  fields.get("free_from", supplier.free_from, read_money_from_zero);
  read_lead(fields, supplier.lead_days, supplier.lead_spread);
}

void read_article(Context& context, const Node& node, Article& article) {
  const Fields fields(context, node, Part::article);
  fields.get("name", article.name, read_line);
  if (fields.get("kind", article.kind, read_kind)) check_kind(fields, article.kind);
  fields.get("unit", article.unit, read_line);
  fields.get("pack", article.pack, read_quantity);
  fields.get("keeps_days", article.keeps_days, Whole{0, most_days});
  fields.get("offers", article.offers, list_of(read_offer));
  fields.get("mates", article.mates, read_mates);
  fields.get("serves", article.serves, set_of(read_id));
  fields.get("for", article.serves_for, set_of(Reference{&Ids::jobs_or_removals, "a job or a removal"}));
  read_tool_keys(fields, article);
}

std::optional<OnHand> read_on_hand(Context& context, const Node& node) {
  OnHand on_hand;
  const Fields fields(context, node, Part::on_hand);
  fields.get("article", on_hand.article, Reference{&Ids::articles, "an article"});
  fields.get("amount", on_hand.amount, read_quantity);
  fields.get("opened", on_hand.opened, read_day);
  return on_hand;
}

std::optional<Use> read_use(Context& context, const Node& node) {
  Use use;
  use.amount = 1000;
  if (node.kind == NodeKind::text) {
    use.article = read_used(context, node).value_or("");
    return use;
  }
  const Fields fields(context, node, Part::use);
  fields.get("article", use.article, read_used);
  fields.get("amount", use.amount, read_quantity);
  return use;
}

std::optional<Mates> read_mates(Context& context, const Node& node) {
  if (!expect_object(context, node)) return {};
  Mates mates;
  for (const Member& member : node.members) {
    if (!is_id(member.key)) context.findings.error(member.span, id_words());
    if (auto value = read_line(context, member.value)) mates[member.key] = *std::move(value);
  }
  return mates;
}

std::optional<std::vector<std::string>> read_words(Context& context, const Node& node) {
  return set_of(read_line)(context, node);
}

}  // namespace fettlefund::build
