#pragma once
#include <string>

#include "lib/purse/plan.hpp"
#include "lib/report/text/text.hpp"

namespace fettlefund::report {

/// The overview of a purse: the reserve that its builds share, what each has of it, and the proof; then, but
/// for `options.brief`, the plan of each build as if it were alone, without a proof of its own. Ends with a
/// line break. With `options.stage` only that stage of each build.
std::string purse_text(const purse::Outcome& outcome, const TextOptions& options = {});

}  // namespace fettlefund::report
