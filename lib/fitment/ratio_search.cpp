#include "lib/fitment/ratio_search.hpp"

#include <algorithm>
#include <tuple>

#include "lib/fitment/ratio.hpp"
#include "lib/fitment/units.hpp"

namespace fettlefund::fitment {
namespace {

constexpr double ratio_grain = 1e-9;

void require_teeth(const ToothRange& range) {
  require_range("fewest teeth", range.from, fewest_teeth, most_teeth);
  require_range("most teeth", range.to, range.from, most_teeth);
}

void require_search(const ToothSearch& search) {
  require_teeth(search.driving);
  require_teeth(search.driven);
  require_range("lowest wanted ratio", search.ratio_from, 1e-3, 1000);
  require_range("highest wanted ratio", search.ratio_to, search.ratio_from, 1000);
  require_range("adjuster's shortest centre distance in mm", search.adjuster.shortest_mm, 0, most_centre_mm);
  require_range("adjuster's longest centre distance in mm", search.adjuster.longest_mm,
                search.adjuster.shortest_mm, most_centre_mm);
}

bool is_wanted(const ToothSearch& search, const Sprockets& sprockets) {
  const double ratio = final_ratio(sprockets);
  if (ratio < search.ratio_from * (1 - ratio_grain) || ratio > search.ratio_to * (1 + ratio_grain))
    return false;
  return closest_centre_mm({sprockets, search.pitch_mm}) <= search.adjuster.shortest_mm;
}

ToothPair answer(const ToothSearch& search, const Sprockets& sprockets) {
  const ChainDrive drive{sprockets, search.pitch_mm};
  ToothPair pair;
  pair.sprockets = sprockets;
  pair.ratio = final_ratio(sprockets);
  pair.links_mid_travel = links_exact(drive, mid_travel_mm(search.adjuster));
  pair.links = round_links(pair.links_mid_travel, search.rounding);
  pair.axle = axle_position(drive, pair.links, search.adjuster);
  if (search.has_links) pair.axle_as_it_is = axle_position(drive, *search.has_links, search.adjuster);
  pair.keeps_chain = pair.axle_as_it_is && is_within(pair.axle_as_it_is->place);
  return pair;
}

}  // namespace

std::vector<ToothPair> tooth_pairs(const ToothSearch& search) {
  require_search(search);
  std::vector<ToothPair> pairs;
  for (int driving = search.driving.from; driving <= search.driving.to; ++driving) {
    for (int driven = search.driven.from; driven <= search.driven.to; ++driven) {
      const Sprockets sprockets{driving, driven};
      if (is_wanted(search, sprockets)) pairs.push_back(answer(search, sprockets));
    }
  }
  std::sort(pairs.begin(), pairs.end(), [](const ToothPair& a, const ToothPair& b) {
    return std::tie(a.ratio, a.sprockets) < std::tie(b.ratio, b.sprockets);
  });
  return pairs;
}

}  // namespace fettlefund::fitment
