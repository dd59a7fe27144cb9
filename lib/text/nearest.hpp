#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace fettlefund::text {

/// A set of names, kept sorted.
class Names {
 public:
  Names() = default;
  explicit Names(std::vector<std::string> names);
  bool has(std::string_view name) const;
  const std::vector<std::string>& all() const { return names_; }

 private:
  std::vector<std::string> names_;
};

/// How many single-character insertions, deletions, replacements and swaps of neighbours turn one word into
/// the other, upper and lower case being equal; more than `limit` is told as `limit + 1`, and so are words of
/// 128 bytes or more. (Optimal string
/// alignment: Damerau, "A technique for computer detection and correction of spelling errors", 1964.)
int spelling_distance(std::string_view a, std::string_view b, int limit);

/// The name nearest to `word`, or empty if none is near: the distance may be a third of the word's length,
/// and at least 1. Among equals the first in the sort order.
std::string nearest_name(std::string_view word, const Names& names);

}  // namespace fettlefund::text
