#include "lib/fitment/chain_length.hpp"

#include <cmath>

#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

int even_below(double links) { return 2 * static_cast<int>(std::floor((links + link_grain) / 2)); }

int even_not_below(double links) { return 2 * static_cast<int>(std::ceil((links - link_grain) / 2)); }

int nearest_even(double links) { return 2 * static_cast<int>(std::floor(links / 2 + 0.5)); }

}  // namespace

std::string_view offset_link_warning() {
  return "An odd number of links needs an offset link, which carries about 65 % of what the chain carries: "
         "prefer an even number.";
}

int round_links(double links, LinkRounding rounding) {
  require_range("links", links, 1, most_links);
  switch (rounding) {
    case LinkRounding::next_even_up:
      return even_not_below(links);
    case LinkRounding::nearest_even:
      return nearest_even(links);
    case LinkRounding::allow_odd:
      break;
  }
  return static_cast<int>(std::lround(links));
}

ChainOffer offer_of(const ChainDrive& drive, int links) {
  require_range("links", links, 1, most_links);
  return {links, links % 2 != 0, centre_exact_mm(drive, links)};
}

std::array<ChainOffer, 2> even_neighbours(const ChainDrive& drive, double links) {
  require_range("links", links, 2, most_links - 2);
  const int below = even_below(links);
  return {offer_of(drive, below), offer_of(drive, below + 2)};
}

}  // namespace fettlefund::fitment
