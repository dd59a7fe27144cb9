#pragma once
#include <string>

#include "lib/sheets/book/cells.hpp"

namespace fettlefund::sheets {

/// Writes the book to exactly `path`. Checks everything the spreadsheet library lets pass (text that is not
/// UTF-8, over-long or duplicate names, amounts beyond 15 digits) before handing it over, and every answer it
/// gives. Throws std::runtime_error naming the sheet and cell; std::logic_error for a fault of the book's
/// maker.
void render(const Book& book, const std::string& path);

/// The figure a cell stores: minor units over 10^digits, serial days, decimal hours, percent. Throws
/// std::runtime_error for an amount of more than 15 digits. Not for texts and empty cells (std::logic_error).
double stored_number(const Value& value, int digits);

}  // namespace fettlefund::sheets
