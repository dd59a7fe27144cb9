#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/json/tokens.hpp"

namespace fettlefund::build {

class Findings;

enum class NodeKind { object, list, text, number, truth, nothing };

struct Member;

/// A JSON value with its place. Only the part that its kind uses is filled.
struct Node {
  NodeKind kind = NodeKind::nothing;
  bool truth = false;
  Span span;
  std::string text;             ///< decoded text; of a number, as written
  std::vector<Member> members;  ///< of an object, in file order, keys unique
  std::vector<Node> items;      ///< of a list

  /// The value of `key`, or null.
  const Node* find(std::string_view key) const;
};

struct Member {
  std::string key;
  Span span;  ///< of the key
  Node value;
};

/// Values that one file may hold, so that a short text cannot take a lot of memory. A file with max_entries
/// entries has about this many.
inline constexpr std::size_t max_values = 500'000;

/// Parses `text` into a tree. Reports duplicate keys (the first stays) and syntax errors to `findings`. Past
/// a syntax error it reads on where that needs no guessing (see mend.hpp), up to ten times in a text of at
/// most 1 MiB; else `findings` are stopped, and the tree is only good for telling where things are. Never
/// throws but std::bad_alloc.
Node parse_tree(std::string_view text, Findings& findings);

/// The JSON pointer (RFC 6901) of the innermost value or key that starts at or holds byte `offset`.
std::string pointer_to(const Node& root, std::uint32_t offset);

}  // namespace fettlefund::build
