#pragma once
#include <string>
#include <vector>

#include "budgets/problem/problem.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::planning {

/// Where jobs that are all to be done contradict each other by what the file says of them: two of one choice,
/// or one that comes after another which may only be done later. A sentence each. (What they bring that does
/// not fit together: fit_reasons.)
std::vector<std::string> must_reasons(const build::Build& build, const budgets::Problem& problem,
                                      const std::vector<int>& jobs);

}  // namespace fettlefund::planning
