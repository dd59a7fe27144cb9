#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"
#include "lib/progress/history.hpp"

namespace fettlefund::planning {

/// Takes the jobs that are done out of the build, and what they close. `first_bench` is the first bench date
/// to come. Adds to `notes` and `closed`.
void take_out_done(build::Build& build, const History& history, Date first_bench,
                   std::vector<std::string>& notes, std::vector<LeftOut>& closed);

}  // namespace fettlefund::planning
