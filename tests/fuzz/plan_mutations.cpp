#include <cstdio>

#include "tests/fuzz/mutation.hpp"
#include "tests/fuzz/through.hpp"

// Legal builds, mutated, through the whole program. See README.md.
//   plan_mutations FIRST LAST [--show]

using namespace fettlefund;

int main(int count, char** words) {
  std::uint64_t first = 0, last = 0;
  if (!test::read_seeds(count, words, first, last)) return 2;
  const std::vector<std::string> builds = test::legal_builds();
  if (count > 3) return std::puts(test::mutated(builds, first).c_str()), 0;
  return test::run_seeds(first, last,
                         [&](std::uint64_t seed) { return test::through(test::mutated(builds, seed)); });
}
