#pragma once
#include <functional>
#include <vector>

#include "budgets/problem/plan.hpp"

/// A small problem that uses every rule, invented, and its plan: the verifier's tests change one thing in
/// either.
namespace fettlefund::budgets::sample {

Money cents(std::int64_t minor);
Date on(int day);  ///< days after the first payday
Offer offer(int supplier, int price, int lead_days);

/// Three stages, five jobs, two removals, three articles, two tools, five carriers.
ProblemData problem();
/// Jobs 0 and 2 in stage 0, jobs 1 and 4 in stage 1, job 3 left out; tool 0 is hired in stage 0 and bought
/// for stage 1.
Schedule schedule();
const Plan& plan();

/// The plan that `cost` makes; fails the test if it finds the schedule broken.
Plan costed(const ProblemData& data, const Schedule& schedule);
std::vector<Violation> faults(const ProblemData& data, const Plan& plan);
/// The sample plan judged by the sample problem after a change.
std::vector<Violation> with_problem(const std::function<void(ProblemData&)>& change);
/// The sample plan after a change, judged by the sample problem.
std::vector<Violation> with_plan(const std::function<void(Plan&)>& change);

/// Checks that there are findings and that all are of this rule.
void check_only(const std::vector<Violation>& findings, Rule rule);
bool has(const std::vector<Violation>& findings, Rule rule, int stage, int index);
OrderLine& line_for(Plan& plan, int stage, int article);

}  // namespace fettlefund::budgets::sample
