#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

/// Sets of small whole numbers, 64 a word.
namespace fettlefund::budgets::search {

using Bits = std::vector<std::uint64_t>;

inline bool has_bit(const std::uint64_t* bits, int i) { return (bits[i >> 6] >> (i & 63)) & 1U; }
inline void set_bit(std::uint64_t* bits, int i) { bits[i >> 6] |= std::uint64_t{1} << (i & 63); }
inline void flip_bit(std::uint64_t* bits, int i) { bits[i >> 6] ^= std::uint64_t{1} << (i & 63); }

/// How many words a set of the numbers below `count` takes.
inline std::size_t words_for(std::size_t count) { return (count + 63) / 64; }

/// Adds the members of `from`, which has as many words.
inline void unite(Bits& into, const Bits& from) {
  for (std::size_t w = 0; w < into.size(); ++w) into[w] |= from[w];
}

/// Calls `visit` with each member, ascending.
template <class Visit>
void for_each(const Bits& bits, Visit visit) {
  for (std::size_t w = 0; w < bits.size(); ++w) {
    for (std::uint64_t rest = bits[w]; rest != 0; rest &= rest - 1) {
      visit(static_cast<int>(w * 64) + __builtin_ctzll(rest));
    }
  }
}

/// The members, ascending.
inline std::vector<int> members(const Bits& bits) {
  std::vector<int> result;
  for_each(bits, [&](int i) { result.push_back(i); });
  return result;
}

}  // namespace fettlefund::budgets::search
