#pragma once
#include <cstdint>

namespace fettlefund::budgets {

/// A whole number that is not certain: drawn from the triangular distribution that starts at `low`, is
/// densest at `likely` and ends at `high`, and rounded to a whole number. low <= likely <= high, and high -
/// low below 2^62.
struct Spread {
  std::int64_t low = 0, likely = 0, high = 0;
  bool certain() const { return low == high; }
};

/// The largest whole number whose square is at most `n`.
std::uint64_t whole_root(std::uint64_t n);

/// The value below which the share `u` / 2^64 of the distribution lies: the inverse of its cumulative
/// distribution, low + sqrt(u w (likely - low)) up to likely and high - sqrt((1 - u) w (high - likely))
/// above, with w = high - low (NIST/SEMATECH e-Handbook of Statistical Methods gives the distribution;
/// inverse transform: any handbook; both from memory). The root is rounded to the nearest whole number,
/// halves away from the end that it is measured from. Integers only, so the same on every machine. Spreads
/// wider than 2^30 are drawn in steps of a power of two, more than 2^29 of them.
std::int64_t triangular(const Spread& spread, std::uint64_t u);

}  // namespace fettlefund::budgets
