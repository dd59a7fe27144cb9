#pragma once
#include <vector>

#include "lib/outcome/view.hpp"

namespace fettlefund::planning {

/// The job alone, or the group it is done together with, ascending.
std::vector<int> unit_of(const budgets::ProblemData& data, int job);

/// The plan's schedule with these jobs in `stage`. Tools that can only be bought are bought when they are
/// first used; what was bought for a stage that no longer uses it is bought for the first that does.
budgets::Schedule schedule_with(const View& view, const std::vector<int>& jobs, int stage);

}  // namespace fettlefund::planning
