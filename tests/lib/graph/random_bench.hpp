#pragma once
#include <cstdint>
#include <optional>

#include "lib/build/model.hpp"

namespace fettlefund::test {

/// A random build (tests/lib/staging/random_build.hpp) whose jobs and removals have steps, torques, one-use
/// articles that lock, checks, and removals that come off for good, every other
/// one with sessions (tests/lib/staging/random_sessions.hpp); the same for the same seed. `written` is
/// as a file would say it, `settled` as the reader hands it on. Steps tell by their first letter what they
/// are: "P" plain, "F" fit an article, "T" tighten, "L" lock; checks "C", those of the whole "W".
struct RandomBench {
  build::Build written, settled;
};

/// Nothing where the reader or `check` would refuse the build.
std::optional<RandomBench> random_bench(std::uint64_t seed);

}  // namespace fettlefund::test
