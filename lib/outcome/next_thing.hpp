#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"

namespace fettlefund::planning {

/// What to do next, in sentences: what to pay on the next payday on which the plan spends or works, and what
/// to do on the bench date of that stage, in the order of the work. One sentence where nothing is left.
std::vector<std::string> next_things(const Outcome& outcome);

}  // namespace fettlefund::planning
