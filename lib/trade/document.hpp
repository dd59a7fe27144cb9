#pragma once
#include <string>

namespace fettlefund::trade {

/// KINDS.md beside this header: every kind in a table a trade, and what it brings. The file is held equal to
/// this text by a test.
std::string document();

}  // namespace fettlefund::trade
