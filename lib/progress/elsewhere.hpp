#pragma once
#include <string>
#include <vector>

#include "lib/progress/history.hpp"

/// What a build shares with other builds on one purse, and what its record says of that.
namespace fettlefund::planning {

/// What the records of the other builds on the purse say on a day.
struct Elsewhere {
  Money cash;         ///< of the purse, by the records of all its builds
  std::string since;  ///< how that is known, in words
  std::string past;   ///< where the purse file has another past than the records, in words; empty: it has not
  std::int64_t minutes_gone = 0;    ///< of the bench time of the first stage left
  std::vector<build::Extra> rests;  ///< what their deposits leave to be paid
  std::vector<Bought> bought;       ///< by them; orders of one day at one supplier are one order
};

/// Bench time that work recorded from `since` on took. What is not recorded is as planned, a removal once a
/// day.
std::int64_t minutes_gone(const build::Build& build, const History& history, Date since);

/// What deposits leave to be paid, as money that goes out on its day; what is overdue on `day` on the next.
std::vector<build::Extra> rests_of(const History& history, Date day);

}  // namespace fettlefund::planning
