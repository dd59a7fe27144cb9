#include "lib/goods/nearest.hpp"

#include <algorithm>

namespace fettlefund::goods {

namespace {

constexpr std::size_t word_at_most = 64;  // bytes; longer words are near to nothing

int edits(std::string_view a, std::string_view b) {
  std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1, 0));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = static_cast<int>(i);
  for (std::size_t k = 0; k <= b.size(); ++k) d[0][k] = static_cast<int>(k);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t k = 1; k <= b.size(); ++k) {
      const int change = a[i - 1] == b[k - 1] ? 0 : 1;
      d[i][k] = std::min({d[i - 1][k] + 1, d[i][k - 1] + 1, d[i - 1][k - 1] + change});
      const bool swapped = i > 1 && k > 1 && a[i - 1] == b[k - 2] && a[i - 2] == b[k - 1];
      if (swapped) d[i][k] = std::min(d[i][k], d[i - 2][k - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& known, int edits_at_most) {
  if (word.size() > word_at_most) return {};
  std::string best;
  int least = std::min(edits_at_most, (static_cast<int>(word.size()) - 1) / 2) + 1;
  for (const std::string& candidate : known) {
    if (candidate.size() > word_at_most) continue;
    const int count = edits(word, candidate);
    if (count >= least) continue;
    least = count;
    best = candidate;
  }
  return best;
}

}  // namespace fettlefund::goods
