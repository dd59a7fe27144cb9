#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace fettlefund::fitment {

/// Inner width of a chain in mm: sources differ by tenths, so a range (both ends included).
struct InnerWidth {
  double low_mm = 0;
  double high_mm = 0;
};

/// A chain size. Chains agree (as mates do) when their `number` is the same: equal pitch alone is not enough.
struct ChainSize {
  std::string number;                     ///< "520", "40": without strength letters
  std::string strength;                   ///< "", "H", "M" or "MH" as written after the number
  double pitch_mm = 0;                    ///< first digit x 25.4 / 8
  std::optional<InnerWidth> inner_width;  ///< from the table only; nothing = not tabled, measure it
};

/// Result of reading a size: either `size` is set or `fault` says why not.
struct ChainSizeReading {
  std::optional<ChainSize> size;
  std::string fault;
};

/// Reads a motorcycle chain size (three digits beginning with 4, 5 or 6; scope: ISO 10190, Motorcycle chains)
/// or one of the sizes 35, 40, 50, 60 of ANSI B29.1 (1975), with blanks before H, M or MH allowed. The pitch
/// follows from the first digit; the inner width does not, and comes from a table. A maker's own letters are
/// refused, not guessed.
ChainSizeReading read_chain_size(std::string_view text);

}  // namespace fettlefund::fitment
