#include <algorithm>

#include "lib/build/json/tree.hpp"
#include "lib/text/utf8.hpp"

/// Ways through a finished tree.
namespace fettlefund::build {
namespace {

/// "~" and "/" escaped as RFC 6901 asks; long keys are cut, control characters replaced.
std::string pointer_part(const std::string& key) {
  constexpr std::size_t longest = 64;
  std::string part = "/";
  for (const char c : text::shortened(key, longest)) {
    if (c == '~')
      part += "~0";
    else if (c == '/')
      part += "~1";
    else
      part += c;
  }
  return part;
}

/// The last of `values`, which stand in file order, that begins at or before `offset`; their end if there is
/// none.
template <class Values, class Begin>
auto last_begun(const Values& values, std::uint32_t offset, Begin begin) {
  auto after = std::upper_bound(values.begin(), values.end(), offset,
                                [&](std::uint32_t at, const auto& value) { return at < begin(value); });
  return after == values.begin() ? values.end() : after - 1;
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  for (const Member& member : members)
    if (member.key == key) return &member.value;
  return nullptr;
}

std::string pointer_to(const Node& root, std::uint32_t offset) {
  std::string pointer;
  const Node* node = &root;
  while (node != nullptr && node->span.begin != offset) {
    const Node* inner = nullptr;
    if (node->kind == NodeKind::object) {
      const auto member = last_begun(node->members, offset, [](const Member& m) { return m.span.begin; });
      if (member != node->members.end() && (offset < member->span.end || offset < member->value.span.end)) {
        pointer += pointer_part(member->key);
        inner = offset >= member->value.span.begin ? &member->value : nullptr;
      }
    } else if (node->kind == NodeKind::list) {
      const auto item = last_begun(node->items, offset, [](const Node& n) { return n.span.begin; });
      if (item != node->items.end() && offset < item->span.end) {
        pointer += '/';
        pointer += std::to_string(item - node->items.begin());
        inner = &*item;
      }
    }
    node = inner;
  }
  return pointer;
}

}  // namespace fettlefund::build
