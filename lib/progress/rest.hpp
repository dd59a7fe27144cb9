#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"
#include "lib/progress/history.hpp"

namespace fettlefund::planning {

/// A bench date to come and whether there is any time left on it.
struct BenchLeft {
  Date bench;
  bool time = true;
  Date last = bench;  ///< of its sessions
};

/// Takes the jobs that are done out of the build, and what they close. `left` are the bench dates to come, in
/// order, at least one. A must is late when none of them up to its day has time for it. Adds to `notes` and
/// `closed`.
void take_out_done(build::Build& build, const History& history, const std::vector<BenchLeft>& left,
                   std::vector<std::string>& notes, std::vector<LeftOut>& closed);

/// Of a build from which what is done was taken out: lets go of musts, and of what they need, that are late
/// when these are the only bench dates left. Whether there were any.
bool let_go_of_late(build::Build& build, const std::vector<BenchLeft>& left, std::vector<std::string>& notes);

}  // namespace fettlefund::planning
