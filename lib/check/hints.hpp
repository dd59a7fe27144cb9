#pragma once
#include <vector>

#include "lib/build/diagnostic.hpp"

namespace fettlefund::planning {

/// What `check` asks and suggests besides mistakes, each a hint that points at its place, in file order:
/// jobs that have neither kind nor tag, with the kinds of work that their name, steps and articles suggest;
/// tags that no rule, caution or kind goes by, and those of a job without kind that call for a caution but
/// for no reminder, with what was probably meant; things easily forgotten that
/// several articles would serve; hours far from what the kind of work usually takes; sessions
/// before most goods are there.
std::vector<build::Diagnostic> hints(const build::Build& build);

}  // namespace fettlefund::planning
