#include "lib/fitment/torque_pattern.hpp"

#include <algorithm>
#include <cstdlib>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

/// Steps between two pairs: the pairs of n fasteners repeat after n/2 places.
int apart(int a, int b, int pairs) {
  const int steps = std::abs(a - b);
  return std::min(steps, pairs - steps);
}

/// The open pair farthest from all done ones; ties go to the farthest from the last done, then the lowest.
int next_pair(const std::vector<bool>& is_done, const std::vector<int>& clear, int last) {
  const int pairs = static_cast<int>(clear.size());
  int best = -1;
  for (int pair = 0; pair < pairs; ++pair) {
    if (is_done[pair]) continue;
    if (best < 0 || clear[pair] > clear[best] ||
        (clear[pair] == clear[best] && apart(pair, last, pairs) > apart(best, last, pairs))) {
      best = pair;
    }
  }
  return best;
}

std::vector<int> in_opposite_pairs(int pairs) {
  std::vector<int> sequence;
  std::vector<bool> is_done(pairs, false);
  std::vector<int> clear(pairs, pairs);  // steps to the nearest done pair
  int pair = 0;
  for (int done = 0; done < pairs; ++done) {
    if (done > 0) pair = next_pair(is_done, clear, pair);
    is_done[pair] = true;
    sequence.insert(sequence.end(), {pair + 1, pair + 1 + pairs});
    for (int other = 0; other < pairs; ++other)
      clear[other] = std::min(clear[other], apart(other, pair, pairs));
  }
  return sequence;
}

std::vector<int> by_almost_half(int count) {
  std::vector<int> sequence;
  sequence.reserve(count);
  const int step = std::max(1, count / 2);
  for (int i = 0; i < count; ++i) sequence.push_back(i * step % count + 1);
  return sequence;
}

}  // namespace

std::vector<int> tightening_sequence(int count) {
  require_range("fasteners on a circle", count, 1, 200);
  return count % 2 == 0 ? in_opposite_pairs(count / 2) : by_almost_half(count);
}

std::string write_sequence(const std::vector<int>& sequence) {
  std::string text;
  for (const int number : sequence) text += (text.empty() ? "" : ", ") + std::to_string(number);
  return text;
}

}  // namespace fettlefund::fitment
