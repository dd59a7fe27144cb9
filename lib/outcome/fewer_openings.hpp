#pragma once
#include <string>
#include <vector>

#include "lib/outcome/view.hpp"

namespace fettlefund::planning {

/// Where a small change would save a strip-down, in sentences: a removal that comes off in several stages of
/// the plan, whose jobs could share one of them if there were a little more money (at most a payday's amount,
/// in one stage) or time (at most a quarter of that stage's, or an hour), or at a loss of want of at most a
/// tenth of the plan's. Every figure comes from costing the plan with those jobs put together. The most hours
/// saved first; at most three.
std::vector<std::string> fewer_openings(const View& view);

}  // namespace fettlefund::planning
