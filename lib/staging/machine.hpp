#pragma once
#include <string>
#include <vector>

#include "budgets/problem/problem.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::planning {

/// Everything that can be on the machine: fitted things first, then jobs, where they have mates or clash; by
/// id. Keys and values in the order in which these name them.
struct Machine {
  std::vector<budgets::Carrier> carriers;
  std::vector<budgets::Clash> clashes;
  std::vector<std::string> keys;                 ///< mate key -> its word
  std::vector<std::vector<std::string>> values;  ///< mate key -> value -> its word
};

Machine machine_of(const build::Build& build);

/// The jobs that take off again what a job fitted: those of its `replaced_by`, but those that `after`,
/// directly or through others, has it done after.
std::vector<int> taken_off_by(const build::Build& build, int job);

/// What a job puts on the machine: its own mates and those of the articles it uses. Where they disagree the
/// job's own count (`check` reports it).
build::Mates mates_of(const build::Build& build, const build::Job& job);

}  // namespace fettlefund::planning
