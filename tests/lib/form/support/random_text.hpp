#pragma once
#include <cstdint>
#include <string>

namespace fettlefund::test {

/// The text of a build file that the reader finds no error in, with every key of the format in some of them;
/// names and texts with all that spreadsheets like to take for something else.
std::string random_build_text(std::uint64_t seed);

}  // namespace fettlefund::test
