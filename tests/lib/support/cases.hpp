#pragma once
#include <algorithm>
#include <cstdlib>

namespace fettlefund::test {

/// How many random cases a test draws: FETTLEFUND_CASES of the environment where it is set, at least 1.
inline int cases(int usual) {
  const char* wanted = std::getenv("FETTLEFUND_CASES");
  return wanted != nullptr ? std::max(1, std::atoi(wanted)) : usual;
}

}  // namespace fettlefund::test
