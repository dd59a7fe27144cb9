#pragma once
#include <vector>

#include "lib/outcome/view.hpp"

namespace fettlefund::planning {

/// Every agreed job that the plan has elsewhere than agreed. Each is put back by itself, with what is done
/// together with it, all else staying as planned: what then breaks, or what is then lost, is its reason. Jobs
/// left out have the reason of `left_out`.
std::vector<Move> moves_of(const View& view, const std::vector<LeftOut>& left_out);

}  // namespace fettlefund::planning
