#pragma once
#include "lib/build/model.hpp"
#include "tests/budgets/support/random.hpp"

namespace fettlefund::test {

/// The same build with every list in which the order of the entries says nothing in a random order. The
/// order of rules and silences, of steps and checks, and of words for people stays.
build::Build shuffled(build::Build build, testing::Random& random);

}  // namespace fettlefund::test
