#pragma once
#include <string>
#include <vector>

#include "lib/outcome/view.hpp"
#include "lib/questions/why.hpp"

namespace fettlefund::planning {

/// What the answer about one stage says, in sentences: whether the job can be there, what stops it or what it
/// displaces, and what would move it. `told` has everything else filled in.
std::vector<std::string> why_sentences(const View& view, int job, const budgets::AtStage& at,
                                       const WhyStage& told);

}  // namespace fettlefund::planning
