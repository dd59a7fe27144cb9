#include "lib/build/json/fields.hpp"

#include <stdexcept>

#include <fmt/format.h>

namespace fettlefund::build {

Fields::Fields(Context& context, const Node& node, const KeyTable& table)
    : context_(context), node_(node), table_(table) {
  if (expect_object(context, node)) check_keys();
}

/// An unknown key is told which keys there are, or which of them says what people mean by it.
void Fields::refuse_key(const Member& member) {
  if (const std::string_view meant = meant_by(table_, member.key); !meant.empty()) {
    context_.findings.error(member.span,
                            fmt::format("a key of {}; this one is called \"{}\"", table_.called, meant));
    return;
  }
  context_.findings.unknown(member.span, table_.listed, member.key, table_.names);
}

void Fields::check_keys() {
  for (const Member& member : node_.members)
    if (!table_.names.has(member.key)) refuse_key(member);
  for (const Key& key : table_.keys)
    if (key.required && node_.find(key.name) == nullptr)
      context_.findings.missing(node_.span, fmt::format("a key \"{}\"", key.name));
}

const Node* Fields::find(std::string_view key) const {
  if (!table_.names.has(key)) throw std::logic_error(fmt::format("no key {} in {}", key, table_.name));
  return node_.find(key);
}

}  // namespace fettlefund::build
