#pragma once
#include <string>
#include <vector>

#include "lib/sheets/pages/pages.hpp"

namespace fettlefund::sheets {

/// A stage as Overview shows it: what has happened in it, and what is planned for the rest of it.
struct StageRow {
  int number = 1;
  bool over = false;
  Date payday, bench;
  Money money_in, planned, paid, counts, left, floor;
  std::int64_t used = 0, have = 0, taken = 0;  ///< minutes: planned, at hand, taken where that is recorded
  std::string check;                           ///< "ok", what is wrong with it, or "past"
  std::string jobs, remarks;
};

inline constexpr const char* kPast = "past";

/// From the first that has happened, or that is planned, without gaps. What was left before the first is
/// `opening_of`.
std::vector<StageRow> stage_rows_of(const Outcome& outcome, const Past& past);

/// Cash before the first of the rows.
Money opening_of(const Outcome& outcome, const Past& past);

}  // namespace fettlefund::sheets
