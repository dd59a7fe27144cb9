#pragma once
#include <string>

#include "lib/purse/plan.hpp"

namespace fettlefund::report {

/// The plan of a purse for programs: the stages that its builds share, and each build's part. Keys as told in
/// README.md of this folder's parent; form and order as in json.hpp.
std::string purse_json(const purse::Outcome& outcome);

}  // namespace fettlefund::report
