#pragma once
#include <vector>

#include "lib/outcome/view.hpp"

namespace fettlefund::planning {

/// For each step of a stage's work the first day on which its job or removal can be begun: what it uses has
/// arrived by then, its tools are there, and `not_before` is over. Never later than the stage's bench date by
/// which the plan has all of it; that day itself where it is hired or borrowed, or goes off once it is opened
/// (from when on is reckoned from the bench date). Empty where no session of the stage comes before.
std::vector<Date> ready_days(const View& view, int stage, const std::vector<WorkStep>& work,
                             const BenchTime& time);

}  // namespace fettlefund::planning
