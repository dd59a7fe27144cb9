#pragma once
#include <string>
#include <vector>

#include "lib/build/model.hpp"
#include "lib/graph/work_order.hpp"

namespace fettlefund::graph {

struct Caution {
  std::string text;
  std::string source;      ///< public source, or the user's build file
  std::string brief = {};  ///< one short line for the step where it matters; empty for those of every build
};

/// A caution that tags call for. Reminders only: each defers to the maker's manual, local codes or licensed
/// practice, and none gives a figure to work to.
struct TagCaution {
  std::string id;                 ///< short word, itself one of the tags
  std::vector<std::string> tags;  ///< as `normal_tag` writes them, sorted; any of them calls for the caution
  Caution caution;
};

/// All cautions by tag, sorted by id. No tag stands in two of them.
const std::vector<TagCaution>& caution_table();

/// Cautions that the tags of these jobs and removals call for (raised vehicle, brakes, wheel, chain riveting,
/// grinding, battery, gas, mains, fuel, ...), or their kinds of work, each once, in the order of the table,
/// with its public source; then what the kinds of work mind besides, less what is silenced; then the jobs'
/// own cautions, each text once, with the job they come from as their source.
std::vector<Caution> cautions_for(const build::Build& build, const std::vector<int>& jobs,
                                  const std::vector<int>& removals);

/// Puts the short lines of those cautions at the steps of a work order where they matter: at the first step
/// of the first job or removal that calls for one, and again at the first step of every other job that does.
/// A job's own caution stands at its first step.
void place_cautions(const build::Build& build, const std::vector<int>& jobs, const std::vector<int>& removals,
                    std::vector<WorkStep>& order);

/// Cautions that every build carries.
std::vector<Caution> general_cautions();

}  // namespace fettlefund::graph
