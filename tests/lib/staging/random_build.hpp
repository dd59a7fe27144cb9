#pragma once
#include <cstdint>

#include "lib/build/model.hpp"

namespace fettlefund::test {

/// A small invented build, the same for the same seed on every platform: 2 to 5 jobs over 2 or 3 stages with
/// removals that need others, mates, clashes, due parts, tools to own, buy, hire or borrow, torques that want
/// a wrench, goods in packs that keep for a time, delivery charges, offers that begin and end, bills,
/// `after`, `with` and one-of groups, windows and musts. Each feature is there or not for the whole build.
/// Shops send in whole days; amounts are a few currency units, so that cash, hours and fit all bind now and
/// then.
build::Build random_build(std::uint64_t seed);

}  // namespace fettlefund::test
