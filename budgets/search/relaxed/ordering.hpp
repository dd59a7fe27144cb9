#pragma once
#include <cstdint>
#include <vector>

namespace fettlefund::budgets::search {

/// A line that a unit is sure to bring whenever it is done, with the ways to buy it.
struct SureLine {
  struct Way {
    int join = -1;       ///< index of Ordering::joins; -1: the supplier charges nothing that is sure
    int first = 0;       ///< paydays on which it can be ordered
    int last = 0;        ///< at most the stage it is for
    std::int64_t price;  ///< at least
    std::int64_t extra;  ///< of that, more than the unit's cost in the relaxed problem has for the line
  };
  int unit = 0;
  std::vector<std::vector<Way>> ways;  ///< [stage]; none: nothing to buy for that stage
};

/// What has to be bought in a stage because a unit is done or a tool first needed, or may have to be of an
/// article of which something may be left.
struct GoodsLine {
  struct Buy {
    int supplier = 0;
    bool now = false;        ///< on the stage's own payday
    bool early = false;      ///< on an earlier one
    std::int64_t full = 0;   ///< its price, minor units
    std::int64_t least = 0;  ///< the same less what may come off it if its order comes free of delivery
  };
  struct Stage {
    std::int64_t base = 0;  ///< so much of what it costs is counted besides, minor units
    std::vector<Buy> buys;  ///< none: nothing to buy
  };
  int unit = -1;     ///< that brings it; or
  int once = -1;     ///< index of the relaxed problem's tools: brought by the first stage that needs that
  int article = -1;  ///< a pack at a time
  std::vector<Stage> stages;
};

/// When and where goods are ordered, as the bound sees it. A plan orders each sure line of a unit it does in
/// one of its ways, on one of its paydays; an order of a payday pays `fee`, whatever it is for. Money is in
/// units of the relaxed problem.
struct Ordering {
  /// A line that may be in orders of a supplier.
  struct Join {
    int line = 0;
    int supplier = 0;
  };
  std::vector<std::int64_t> fee;  ///< [supplier] of each order; 0: none is sure
  std::vector<SureLine> lines;
  std::vector<Join> joins;

  int suppliers() const { return static_cast<int>(fee.size()); }
  bool empty() const { return lines.empty(); }
};

/// A fee that a unit is sure to pay in its stage unless it can join an order placed for an earlier one.
struct SureFee {
  int supplier = 0;
  std::int64_t cost = 0;
};

}  // namespace fettlefund::budgets::search
