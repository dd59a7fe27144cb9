#pragma once
#include <string>
#include <vector>

#include "lib/progress/history.hpp"

namespace fettlefund::planning {

/// What is on hand on a day, and what was used up without having been recorded.
struct Stock {
  std::vector<build::OnHand> on_hand;  ///< tools first, then by article in file order
  std::vector<std::string> notes;
};

/// On hand at the start, and bought; less what the jobs done and the removals they opened have used up (a
/// removal once a day, easily forgotten things included). The lot that ends first is used first. Of a lot
/// that was taken from, whole packs are still closed; the rest of the pack taken from was opened on that day.
/// What arrives after `day` is on its way. Tools bought are owned.
Stock stock_on(const build::Build& build, const History& history, Date day);

/// The removals that a job opens, its own and all they need, as indices, ascending.
std::vector<int> opened_by(const build::Build& build, const build::Job& job);

}  // namespace fettlefund::planning
