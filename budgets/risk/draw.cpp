#include "budgets/risk/draw.hpp"

#include <algorithm>

namespace fettlefund::budgets {
namespace {

constexpr std::uint64_t most_steps = std::uint64_t{1} << 30;  // so that four times a product fits 64 bits

/// floor(n * u / 2^64).
std::uint64_t share_of(std::uint64_t n, std::uint64_t u) {
  __extension__ using Wide = unsigned __int128;
  return static_cast<std::uint64_t>((static_cast<Wide>(n) * u) >> 64);
}

/// sqrt(area * u / 2^64) to the nearest whole number; area < 2^60. floor(2 sqrt(y)) = floor(sqrt(floor(4
/// y))).
std::uint64_t rounded_root(std::uint64_t area, std::uint64_t u) {
  return (whole_root(share_of(4 * area, u)) + 1) / 2;
}

}  // namespace

std::uint64_t whole_root(std::uint64_t n) {
  std::uint64_t root = 0;
  for (std::uint64_t bit = std::uint64_t{1} << 31; bit != 0; bit >>= 1) {
    const std::uint64_t tried = root | bit;
    if (tried * tried <= n) root = tried;
  }
  return root;
}

std::int64_t triangular(const Spread& spread, std::uint64_t u) {
  const auto full_width = static_cast<std::uint64_t>(spread.high - spread.low);
  const auto full_rise = static_cast<std::uint64_t>(spread.likely - spread.low);
  int shift = 0;
  while ((full_width >> shift) > most_steps) ++shift;
  const std::uint64_t width = full_width >> shift, rise = full_rise >> shift;
  const bool rising = share_of(width, u) < rise;
  const std::uint64_t from_end =
      rising ? rounded_root(width * rise, u) : rounded_root(width * (width - rise), ~u);
  const auto steps = static_cast<std::int64_t>(from_end << shift);
  return rising ? spread.low + steps : spread.high - steps;
}

}  // namespace fettlefund::budgets
