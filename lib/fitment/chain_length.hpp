#pragma once
#include <array>
#include <optional>
#include <string_view>

#include "lib/fitment/chain.hpp"

namespace fettlefund::fitment {

/// How a computed length becomes a whole number of links. Texts differ, so the choice is named.
enum class LinkRounding {
  next_even_up,  ///< the smallest even count that is not shorter
  nearest_even,  ///< the even count nearest by; an exact odd length goes up
  allow_odd,     ///< the whole count nearest by; an odd one needs an offset link
};

/// A computed length this little (in links) above a count is that count: rounding error, not length.
inline constexpr double link_grain = 1e-3;

/// What a chain with an odd count carries, in percent of the plain chain. Common practice, no source.
inline constexpr int offset_link_percent = 65;

/// One sentence for the reader; to be shown with every odd count.
std::string_view offset_link_warning();

/// The whole number of links for a computed length of 1 to most_links. Throws std::domain_error outside.
int round_links(double links, LinkRounding rounding);

/// A chain that could be fitted and where it puts the shafts.
struct ChainOffer {
  int links = 0;
  bool needs_offset_link = false;   ///< odd count: show offset_link_warning()
  std::optional<double> centre_mm;  ///< by exact geometry; nothing when the chain is too short to go round
};

/// The offer of `links` (1 to most_links) on this drive.
ChainOffer offer_of(const ChainDrive& drive, int links);

/// The even counts on both sides of a computed length: the largest not above it (within link_grain) and the
/// next. A length that is itself even comes first.
std::array<ChainOffer, 2> even_neighbours(const ChainDrive& drive, double links);

}  // namespace fettlefund::fitment
