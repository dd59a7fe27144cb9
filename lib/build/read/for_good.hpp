#pragma once
#include <string>
#include <vector>

#include "lib/build/model.hpp"

namespace fettlefund::build {

/// A job of which nobody knows whether it meets a removal before or after it has come off for good.
struct Doubt {
  Id job;
  std::string expected;  ///< for a diagnostic at the job
};

/// Settles what comes off for good (Job::takes_off), so that the rest of the program sees plain removals:
/// - The job that takes a removal off, and jobs done `with` it, use a removal of their own for it instead,
/// with
///   `for_good` and `stands_for` set: the hours and steps of taking off, and nothing that goes back on.
/// - Jobs that come after that job (by `after`, of however many) use what it `puts_on` instead, or nothing.
/// - Removals that need it are copied with their needs changed alike, where one of those jobs uses them;
///   `stands_for` is set where what they need comes off for good.
/// All of them stand behind the removals of the file. Returns the jobs that use such a removal and whose
/// order towards the job that takes it off is not told; jobs of one one-of group need none. Cycles are left
/// for `check` to tell. A build with ids that name nothing stays as it is.
std::vector<Doubt> settle_for_good(Build& build);

}  // namespace fettlefund::build
