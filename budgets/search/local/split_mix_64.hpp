#pragma once
#include <cstdint>

namespace fettlefund::budgets::search {

/// The fixed sequence of pseudo-random numbers of Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators" (2014): the same on every machine.
class SplitMix64 {
 public:
  explicit SplitMix64(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  int below(int n) {
    return static_cast<int>(next() % static_cast<std::uint64_t>(n));
  }  ///< 0 to n - 1; n > 0

 private:
  std::uint64_t state_;
};

}  // namespace fettlefund::budgets::search
