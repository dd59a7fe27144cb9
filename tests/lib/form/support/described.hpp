#pragma once
#include <string>

#include "lib/build/model.hpp"

namespace fettlefund::test {

/// Every field of a build that its file can say, a line each: two builds that mean the same give the same
/// text.
std::string described(const build::Build& build);

}  // namespace fettlefund::test
