#pragma once
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::budgets {

/// Schedules of `problem` that keep all its rules, have `job` in `stage`, and are no worse than `plan`
/// (value, money, time), which need not keep the rules of `problem`: what the job requires comes along, what
/// requires it moves back, and at most one other unit of jobs moves or is left out besides.
std::vector<Schedule> changes_near_by(const Problem& problem, const Plan& plan, int job, int stage);

}  // namespace fettlefund::budgets
