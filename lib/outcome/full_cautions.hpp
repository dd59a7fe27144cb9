#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"

namespace fettlefund::planning {

/// A caution in full, with the numbers of the stages whose work calls for it (none: every build's).
struct FullCaution {
  Caution caution;
  std::vector<int> stages;
};

/// Every caution once: those of the whole build, then those of the stages in the order in which they come up.
std::vector<FullCaution> cautions_in_full(const Outcome& outcome);

/// The text, followed by " [stages 2 and 4]" where there are any.
std::string with_stages(const std::string& text, const std::vector<int>& stages);

}  // namespace fettlefund::planning
