#pragma once
#include "lib/form/writing/fill.hpp"
#include "lib/sheets/book/cells.hpp"

namespace fettlefund::form {

/// The sheet of single fields that is number `number` of `all_sheets`.
sheets::Sheet field_sheet(const Filled& filled, std::size_t number);

}  // namespace fettlefund::form
