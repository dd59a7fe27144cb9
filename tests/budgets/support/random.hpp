#pragma once
#include <cstdint>
#include <vector>

namespace fettlefund::testing {

/// A small generator with the same stream on every platform: a counter stepped by the golden-ratio increment
/// whose value is scrambled by two multiply-and-shift rounds (G. Steele, D. Lea, C. Flood, "Fast Splittable
/// Pseudorandom Number Generators", OOPSLA 2014).
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    std::uint64_t z = state_ += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
  }
  /// 0 to count - 1; count >= 1. The bias of the remainder is below 2^-32 for the counts used here.
  int below(int count) { return static_cast<int>(next() % static_cast<std::uint64_t>(count)); }
  int between(int low, int high) { return low + below(high - low + 1); }  ///< both included
  bool chance(int percent) { return below(100) < percent; }

  template <class Item>
  void shuffle(std::vector<Item>& items) {
    for (int i = static_cast<int>(items.size()); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

 private:
  std::uint64_t state_;
};

}  // namespace fettlefund::testing
