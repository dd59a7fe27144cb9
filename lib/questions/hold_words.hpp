#pragma once
#include <string>
#include <vector>

#include "lib/outcome/view.hpp"
#include "lib/questions/why.hpp"

namespace fettlefund::planning {

/// What each of the rules that stop a job at a stage (`at.holds`, in their order) says about it, in
/// sentences: the days, the money and the hours that are missing, what it has to come after, what arrives too
/// late, what it would clash with. Of `told` only the stage's number counts.
std::vector<std::string> hold_sentences(const View& view, int job, const budgets::AtStage& at,
                                        const WhyStage& told);

}  // namespace fettlefund::planning
