#pragma once
#include <string_view>

#include "lib/sheets/book/cells.hpp"

namespace fettlefund::form {

/// The sheet that explains the others; nothing is read from it.
inline constexpr std::string_view guide_sheet = "How to";

sheets::Sheet guide();

}  // namespace fettlefund::form
