#pragma once
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::budgets {

/// Whether the schedule has one entry a job and a tool, each a stage or -1. If not, says so in `broken`, and
/// nothing else may be asked about the schedule.
bool check_shape(const Problem& problem, const Schedule& schedule, std::vector<Violation>& broken);

/// Windows, musts, `after`, one-of and together.
void check_choices(const Problem& problem, const Schedule& schedule, std::vector<Violation>& broken);

/// Mates and clashes at the end of every stage.
void check_fit(const Problem& problem, const Schedule& schedule, std::vector<Violation>& broken);

}  // namespace fettlefund::budgets
