#pragma once
#include <string>
#include <vector>

namespace fettlefund::fitment {

/// A sequence for tightening `count` (1 to 200) fasteners on a circle, numbered 1 to `count` going round. An
/// even count goes in opposite pairs, each next pair as far round from those already done as can be (ties:
/// farthest from the last, then the lowest number); an odd count steps almost half-way round each time.
/// Common practice, no source, for joints without a sequence of their own: the maker's sequence and number of
/// passes go before it. Throws std::domain_error outside the range.
std::vector<int> tightening_sequence(int count);

/// "1, 3, 2, 4".
std::string write_sequence(const std::vector<int>& sequence);

}  // namespace fettlefund::fitment
