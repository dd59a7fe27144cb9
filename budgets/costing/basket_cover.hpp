#pragma once
#include <cstdint>
#include <optional>
#include <vector>

namespace fettlefund::budgets {

/// A way to get something.
struct CoverWay {
  std::int64_t price = 0;  ///< of all packs
  int payday = 0;          ///< from 0
  int goal = -1;           ///< the goal that the price counts towards, or -1
  int offer = 0;
};

/// More than any choice can cost (see the limits of Problem), and small enough to be counted in fractions.
constexpr std::int64_t kMostMoney = 500'000'000'000'000;

/// One way for each thing, so that the prices counting towards each goal reach it.
struct CoverTask {
  std::vector<std::vector<CoverWay>> things;  ///< the ways of each; at least one
  std::vector<std::int64_t> goals;
  int paydays = 1;
  std::size_t first_width = 64;    ///< partial choices kept in a first try, which only saves time
  std::int64_t most = kMostMoney;  ///< a choice that costs more is of no interest
};

/// The best choice, exact: for each thing the index of its way. Least money; among equals least on the
/// earliest payday that differs; then the lowest offers, the first thing foremost. Nothing if the goals
/// cannot be reached with `most`. By dynamic programming over the things; a partial choice is dropped when
/// another is no worse and counts no less towards any goal. The work grows with the number of different sums,
/// which the difference between `most` and the cheapest choice keeps small.
std::optional<std::vector<int>> cover(const CoverTask& task);

}  // namespace fettlefund::budgets
