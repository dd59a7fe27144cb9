#pragma once
#include <string>
#include <vector>

#include "lib/outcome/plan.hpp"

namespace fettlefund::planning {

/// What the plan takes for granted, one sentence each, for people.
std::vector<std::string> notes_of(const build::Build& build, const Staging& staging);

}  // namespace fettlefund::planning
