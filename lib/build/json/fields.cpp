#include "lib/build/json/fields.hpp"

#include <stdexcept>

#include <fmt/format.h>

namespace fettlefund::build {

Fields::Fields(Context& context, const Node& node, Part part)
    : context_(context), node_(node), table_(keys_of(part)) {
  if (expect_object(context, node)) check_keys();
}

void Fields::check_keys() {
  for (const Member& member : node_.members)
    if (!table_.names.has(member.key))
      context_.findings.unknown(member.span, fmt::format("a key of {}", table_.called), member.key,
                                table_.names);
  for (const Key& key : table_.keys)
    if (key.required && node_.find(key.name) == nullptr)
      context_.findings.missing(node_.span, fmt::format("a key \"{}\"", key.name));
}

const Node* Fields::find(std::string_view key) const {
  if (!table_.names.has(key)) throw std::logic_error(fmt::format("no key {} in {}", key, table_.name));
  return node_.find(key);
}

}  // namespace fettlefund::build
