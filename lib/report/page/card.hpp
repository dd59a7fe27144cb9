#pragma once
#include "lib/outcome/outcome.hpp"
#include "lib/report/page/html.hpp"

namespace fettlefund::report {

/// One stage on one card: what to have ready, what comes off, the steps, what is left over, the money, and
/// what is easily forgotten.
void add_card(Html& html, const planning::Outcome& outcome, const planning::StageView& stage);

}  // namespace fettlefund::report
