#include "lib/form/writing/fill.hpp"

#include <algorithm>
#include <set>
#include <tuple>

#include "lib/form/grid.hpp"
#include "lib/form/naming.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using build::Member;
using build::Node;
using build::NodeKind;
using NamesById = std::map<std::string, std::string>;

/// Where a row belongs on its sheet: by section, entry, kind of row, item.
using Order = std::tuple<std::size_t, std::size_t, std::size_t, std::size_t>;

bool is_leaf(const Node& node) { return node.kind != NodeKind::object && node.kind != NodeKind::list; }

/// A figure with the decimals that it has, up to four.
sheets::Value decimal(const std::string& text) {
  for (int digits = 0; digits <= 4; ++digits) {
    const auto reading = budgets::read_money(text, {"", digits});
    if (reading.amount && digits == 0) return reading.amount->minor();
    if (reading.amount) return sheets::Decimal{reading.amount->minor(), digits};
  }
  return text;
}

class Filler {
 public:
  Filler(const Node& root, const budgets::Currency& currency) : root_(root), currency_(currency) {}

  Filled fill() {
    name_all();
    for (const SheetSpec& spec : all_sheets()) {
      out_.sheets.emplace_back();
      if (spec.kind == Kind::fields)
        fill_fields(spec);
      else if (spec.kind == Kind::entries)
        fill_entries(spec);
      else
        fill_items(spec);
    }
    for (const std::string_view key : {"fettlefund", "$schema"})  // neither says anything of the build
      if (const Node* said = root_.find(key)) used_.insert(said);
    tell_unused(root_);
    return std::move(out_);
  }

 private:
  std::vector<FormRow>& rows() { return out_.sheets.back(); }

  /// What stands in the column of names: each name once, whatever its case and blanks.
  void name_all() {
    for (const SheetSpec& spec : all_sheets()) {
      if (spec.kind != Kind::entries) continue;
      const Node* section = root_.find(spec.section);
      std::set<std::string> taken;
      if (section == nullptr) continue;
      for (const Member& entry : section->members) {
        const Node* node = entry.value.find(spec.columns.front().key);
        const std::string name = node == nullptr ? entry.key : node->text;
        std::string unique = name;
        for (int number = 2; !taken.insert(folded(unique)).second; ++number)
          unique = fmt::format("{} ({})", name, number);
        if (unique != name)
          out_.unheld.push_back(
              fmt::format("/{}/{}: another row of {} is called '{}' too; this one becomes '{}'", spec.section,
                          entry.key, spec.name, name, unique));
        names_[spec.name][entry.key] = unique;
      }
    }
  }

  std::string name_of(std::string_view sheet, const std::string& id) const {
    const auto list = names_.find(sheet);
    if (list == names_.end()) return id;
    const auto found = list->second.find(id);
    return found == list->second.end() ? id : found->second;
  }
  bool has_name(std::string_view sheet, const std::string& id) const {
    const auto list = names_.find(sheet);
    return sheet.empty() || (list != names_.end() && list->second.contains(id));
  }

  const std::string& text_of(const Node& node) {
    used_.insert(&node);
    return node.text;
  }

  std::string joined(const Column& column, const Node& list) {
    std::vector<std::string> parts;
    for (const Node& item : list.items)
      parts.push_back(column.type == Type::many ? name_of(column.from, text_of(item)) : text_of(item));
    return join_list(parts, column.type == Type::words);
  }

  /// Nothing where the cell cannot hold it.
  std::optional<sheets::Value> value_of(const Column& column, const Node& node) {
    const bool lists = column.type == Type::many || column.type == Type::words ||
                       column.type == Type::lines || column.type == Type::reals;
    if (lists != (node.kind == NodeKind::list)) return std::nullopt;
    if (lists) {
      const bool plain = std::all_of(node.items.begin(), node.items.end(), is_leaf);
      if (!plain) return std::nullopt;
      return joined(column, node);
    }
    if (!is_leaf(node)) return std::nullopt;
    if (column.type == Type::tick) {
      used_.insert(&node);
      return node.truth ? sheets::Value("x") : sheets::Value();
    }
    const std::string& text = text_of(node);
    if (column.type == Type::one || column.type == Type::one_or_word) return name_of(column.from, text);
    return cell_value(column.type, text, currency_.digits);
  }

  /// The part of an entry that a key leads to, or null.
  static const Node* node_at(const Node& entry, std::string_view key) {
    const Node* node = &entry;
    for (std::size_t cut = key.find('/'); cut != std::string_view::npos; cut = key.find('/')) {
      node = node->find(key.substr(0, cut));
      if (node == nullptr) return nullptr;
      key.remove_prefix(cut + 1);
    }
    const auto [group, part] = key_parts(key);
    node = node->find(group);
    if (node == nullptr || part.empty()) return node;
    if (part == "0" || part == "1") {
      const std::size_t number = part == "0" ? 0 : 1;
      const std::size_t first = group == "range" && node->items.size() == 1 ? 1 : 0;  // only the upper end
      return number >= first && number - first < node->items.size() ? &node->items[number - first] : nullptr;
    }
    if (node->kind == NodeKind::object) return node->find(part);
    return part == "likely" ? node : nullptr;
  }

  void put(const SheetSpec& spec, FormRow& row, const Use& use, const Node& node) {
    const Column& column = *spec.find(use.heading);
    if (used_.contains(&node)) return;
    if (column.type == Type::one && !has_name(column.from, node.text)) return;
    if (auto value = value_of(column, node)) row.values[column.heading] = *std::move(value);
  }

  void put_all(const SheetSpec& spec, FormRow& row, const std::vector<Use>& uses, const Node& entry) {
    if (is_leaf(entry)) return put(spec, row, uses.front(), entry);
    for (const Use& use : uses)
      if (const Node* node = use.key.empty() ? &entry : node_at(entry, use.key)) put(spec, row, use, *node);
  }

  static std::vector<Use> uses_of(const SheetSpec& spec) {
    std::vector<Use> uses;
    for (const Column& column : spec.columns) uses.push_back({column.heading, column.key, column.required});
    return uses;
  }

  void fill_fields(const SheetSpec& spec) {
    const Node* node = spec.section.empty() ? &root_ : root_.find(spec.section);
    if (node != nullptr) put_all(spec, rows().emplace_back(), uses_of(spec), *node);
  }

  void fill_entries(const SheetSpec& spec) {
    const Node* section = root_.find(spec.section);
    if (section == nullptr) return;
    for (const Member& entry : section->members) {
      FormRow& row = rows().emplace_back();
      row.id = entry.key;
      put_all(spec, row, uses_of(spec), entry.value);
      row.values[spec.columns.front().heading] = names_[spec.name][entry.key];
    }
  }

  void fill_items(const SheetSpec& spec) {
    ordered_.clear();
    for (std::size_t v = 0; v < spec.variants.size(); ++v)
      walk(spec, v, spec.variants[v].path, root_, {}, Order{0, 0, v, 0});
    std::stable_sort(ordered_.begin(), ordered_.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto& [order, row] : ordered_) rows().push_back(std::move(row));
  }

  /// Follows the rest of a path, a row for each item at its end.
  void walk(const SheetSpec& spec, std::size_t number, std::string_view path, const Node& node, FormRow row,
            Order order) {
    const Variant& variant = spec.variants[number];
    if (path.empty()) return take_items(spec, variant, node, row, order);
    const std::size_t end = std::min(path.find('/'), path.size());
    const std::string_view part = path.substr(0, end), rest = path.substr(std::min(end + 1, path.size()));
    if (!part.starts_with('{')) {
      if (&node == &root_) std::get<0>(order) = section_number(part);
      if (const Node* next = node.find(part)) walk(spec, number, rest, *next, row, order);
      return;
    }
    const Column& column = *spec.find(part.substr(1, part.size() - 2));
    for (std::size_t m = 0; m < node.members.size(); ++m) {
      const Member& member = node.members[m];
      row.values[column.heading] = column.type == Type::one ? name_of(column.from, member.key) : member.key;
      (rest.empty() ? std::get<3>(order) : std::get<1>(order)) = m;
      walk(spec, number, rest, member.value, row, order);
    }
  }

  std::size_t section_number(std::string_view key) const {
    std::size_t number = 0;
    while (number < root_.members.size() && root_.members[number].key != key) ++number;
    return number;
  }

  void take_items(const SheetSpec& spec, const Variant& variant, const Node& node, const FormRow& row,
                  Order order) {
    if (variant.pair) return take(spec, variant, node, row, order);
    for (std::size_t i = 0; i < node.items.size(); ++i) {
      std::get<3>(order) = i;
      take(spec, variant, node.items[i], row, order);
    }
  }

  void take(const SheetSpec& spec, const Variant& variant, const Node& item, FormRow row,
            const Order& order) {
    if (!variant.word.empty()) row.values[kind_heading] = std::string(variant.word);
    put_all(spec, row, variant.uses, item);
    ordered_.emplace_back(order, std::move(row));
  }

  void tell_unused(const Node& node) {
    for (const Member& member : node.members) tell_unused(member.value);
    for (const Node& item : node.items) tell_unused(item);
    if (!is_leaf(node) || used_.contains(&node)) return;
    out_.unheld.push_back(build::pointer_to(root_, node.span.begin) + ": the form has no cell for it");
  }

  const Node& root_;
  const budgets::Currency& currency_;
  Filled out_;
  std::map<std::string_view, NamesById> names_;
  std::set<const Node*> used_;
  std::vector<std::pair<Order, FormRow>> ordered_;
};

}  // namespace

sheets::Value cell_value(Type type, const std::string& text, int digits) {
  if (text.empty()) return {};
  switch (type) {
    case Type::money:
      if (const auto amount = budgets::read_money(text, {"", digits}).amount) return *amount;
      return text;
    case Type::day:
      if (const auto day = budgets::read_date(text)) return *day;
      return text;
    case Type::hours:
    case Type::amount:
    case Type::whole:
    case Type::percent:
    case Type::real:
      return decimal(text);
    default:
      return text;
  }
}

Filled fill(const Node& root, const budgets::Currency& currency) { return Filler(root, currency).fill(); }

}  // namespace fettlefund::form
