#pragma once
#include <optional>

#include "lib/build/diagnostic.hpp"

namespace fettlefund::planning {

/// A hint for a build whose bench time comes in sessions and that names no `days_after_payday`: goods count
/// as there only if they arrive by the first session. Given for goods that arrive after that in at least half
/// of the stages, and by the last session in all of them; with the days that the slowest of them take.
std::optional<build::Diagnostic> goods_day_hint(const build::Build& build);

}  // namespace fettlefund::planning
