#pragma once
#include <string_view>
#include <utility>
#include <vector>

#include "lib/build/json/keys.hpp"
#include "lib/build/json/values.hpp"

namespace fettlefund::build {

/// The fields of one object of the file. Making it reports unknown keys and missing ones; of a value that is
/// no object all fields are absent.
class Fields {
 public:
  Fields(Context& context, const Node& node, Part part) : Fields(context, node, keys_of(part)) {}
  /// The table must outlive the fields and what they report.
  Fields(Context& context, const Node& node, const KeyTable& table);

  /// The value of `key`, which must be in the part's table, or null.
  const Node* find(std::string_view key) const;
  bool has(std::string_view key) const { return find(key) != nullptr; }

  /// Reads `key` into `target`. What is absent or wrong leaves the target as it is and returns false.
  template <class Target, class Reader>
  bool get(std::string_view key, Target& target, const Reader& read) const {
    const Node* node = find(key);
    if (node == nullptr) return false;
    auto value = read(context_, *node);
    if (!value) return false;
    target = *std::move(value);
    return true;
  }

  Context& context() const { return context_; }
  const Span& span() const { return node_.span; }

 private:
  void check_keys();
  void refuse_key(const Member& member);

  Context& context_;
  const Node& node_;
  const KeyTable& table_;
};

/// Reads the entries of a section `{id: entry, ...}`; `read` takes the context, the entry's node and the
/// entry, whose id and place are filled in already. An absent section has none.
template <class Entry, class Read>
void read_entries(Context& context, const Node* section, std::vector<Entry>& entries, const Read& read) {
  if (section == nullptr || !expect_object(context, *section)) return;
  for (const Member& member : section->members) {
    if (!is_id(member.key)) context.findings.error(member.span, id_words());
    Entry& entry = entries.emplace_back();
    entry.id = member.key;
    entry.place = member.span.place;
    read(context, member.value, entry);
  }
}

}  // namespace fettlefund::build
