#pragma once
#include <cstdint>

#include "lib/build/model.hpp"

namespace fettlefund::test {

/// Gives a build with listed paydays evenings on two weekdays in place of its hours, one day off, days for
/// some jobs, and some jobs and removals that may rest overnight. Goods are there by the first evening of a
/// stage, or, for every other seed, by the first after so many days.
void give_sessions(std::uint64_t seed, build::Build& build);

/// random_build of the seed with sessions.
build::Build random_build_by_sessions(std::uint64_t seed);

}  // namespace fettlefund::test
