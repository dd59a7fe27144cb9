#include "lib/text/nearest.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace fettlefund::text {
namespace {

constexpr std::size_t longest = 128;
using Row = std::array<int, longest>;

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

Names::Names(std::vector<std::string> names) : names_(std::move(names)) {
  std::sort(names_.begin(), names_.end());
  names_.erase(std::unique(names_.begin(), names_.end()), names_.end());
}

bool Names::has(std::string_view name) const {
  const auto at = std::lower_bound(names_.begin(), names_.end(), name);
  return at != names_.end() && *at == name;
}

int spelling_distance(std::string_view a, std::string_view b, int limit) {
  const int difference = std::abs(static_cast<int>(a.size()) - static_cast<int>(b.size()));
  if (difference > limit || a.size() >= longest || b.size() >= longest) return limit + 1;
  Row before, above, row;  // only the first b.size() + 1 entries are used
  before[0] = 0;
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int same = lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1;
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + same});
      const bool swapped =
          i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::copy_n(above.begin(), b.size() + 1, before.begin());
    std::copy_n(row.begin(), b.size() + 1, above.begin());
  }
  return std::min(above[b.size()], limit + 1);
}

std::string nearest_name(std::string_view word, const Names& names) {
  constexpr std::size_t longest_word = 80;  // nothing that has a name is longer
  if (word.empty() || word.size() > longest_word) return {};
  int best = std::max(1, static_cast<int>(word.size()) / 3) + 1;
  std::string nearest;
  for (const std::string& name : names.all()) {
    const int distance = spelling_distance(word, name, best - 1);
    if (distance >= best) continue;
    best = distance;
    nearest = name;
  }
  return nearest;
}

}  // namespace fettlefund::text
