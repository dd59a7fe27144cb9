#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace fettlefund::test {

/// The text of one of the builds (JSON with comments) with 1 to 3 changes, the same for the same seed:
/// numbers made larger, smaller or odd; texts made strange; ids exchanged for others of the build; entries
/// dropped, doubled or moved; keys copied from one entry to another of its kind, or from another build.
/// Mostly still legal.
std::string mutated(const std::vector<std::string>& builds, std::uint64_t seed);

}  // namespace fettlefund::test
