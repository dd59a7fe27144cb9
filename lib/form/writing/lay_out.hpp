#pragma once
#include <string>
#include <string_view>

#include "lib/form/writing/fill.hpp"
#include "lib/sheets/book/cells.hpp"

/// A form as sheets.
namespace fettlefund::form {

/// The workbook: how to fill it in, then a sheet for each of `all_sheets` with these rows and empty ones
/// below, the kinds of work (those of `trade` first), and a hidden sheet that marks it as a form. A sheet
/// without rows gets an example row. `title` stands at the foot of the pages.
sheets::Book lay_out(const Filled& filled, const std::string& title, int digits, std::string_view trade = {});

}  // namespace fettlefund::form
