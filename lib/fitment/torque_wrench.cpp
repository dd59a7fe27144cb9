#include "lib/fitment/torque_wrench.hpp"

#include <algorithm>
#include <stdexcept>

namespace fettlefund::fitment {
namespace {

constexpr double forgiven = 1e-9;

}  // namespace

Torque lowest_of(const WrenchRange& wrench) {
  if (wrench.lowest && *wrench.lowest > wrench.highest) {
    throw std::domain_error("a torque wrench's lowest value must not be above its highest");
  }
  if (wrench.lowest) return *wrench.lowest;
  const double assumed = assumed_lowest_share * wrench.highest.newton_metres();
  return Torque::of(std::max(assumed, Torque::least_nm), TorqueUnit::newton_metre);
}

bool covers(const WrenchRange& wrench, Torque need) {
  const double nm = need.newton_metres();
  return nm >= lowest_of(wrench).newton_metres() * (1 - forgiven) &&
         nm <= wrench.highest.newton_metres() * (1 + forgiven);
}

std::vector<std::vector<Covering>> coverage(std::span<const Torque> needs,
                                            std::span<const WrenchRange> wrenches) {
  std::vector<std::vector<Covering>> result(needs.size());
  for (std::size_t need = 0; need < needs.size(); ++need) {
    for (std::size_t wrench = 0; wrench < wrenches.size(); ++wrench) {
      if (covers(wrenches[wrench], needs[need])) result[need].push_back({wrench, !wrenches[wrench].lowest});
    }
  }
  return result;
}

std::vector<std::size_t> uncovered(std::span<const Torque> needs, std::span<const WrenchRange> wrenches) {
  std::vector<std::size_t> gaps;
  const auto covered = coverage(needs, wrenches);
  for (std::size_t need = 0; need < needs.size(); ++need) {
    if (covered[need].empty()) gaps.push_back(need);
  }
  return gaps;
}

std::optional<WrenchRange> missing_range(std::span<const Torque> needs,
                                         std::span<const WrenchRange> wrenches) {
  const auto gaps = uncovered(needs, wrenches);
  if (gaps.empty()) return std::nullopt;
  WrenchRange range{needs[gaps[0]], needs[gaps[0]]};
  for (const std::size_t gap : gaps) {
    range.lowest = std::min(*range.lowest, needs[gap]);
    range.highest = std::max(range.highest, needs[gap]);
  }
  return range;
}

}  // namespace fettlefund::fitment
