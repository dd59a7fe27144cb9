#pragma once
#include <string>
#include <vector>

#include "lib/build/model.hpp"

namespace fettlefund::graph {

struct Caution {
  std::string text;
  std::string source;  ///< public source, or the user's build file
};

/// Cautions that the tags of these jobs and removals call for (raised vehicle, brakes, wheel, chain riveting,
/// grinding, battery, gas, mains, fuel, ...), each once, with its public source, deferring to the maker's
/// manual, local codes and licensed practice; then the jobs' own cautions.
std::vector<Caution> cautions_for(const build::Build& build, const std::vector<int>& jobs,
                                  const std::vector<int>& removals);

/// Cautions that every build carries.
std::vector<Caution> general_cautions();

}  // namespace fettlefund::graph
