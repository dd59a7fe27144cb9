#pragma once
#include <string>

#include "lib/questions/compare.hpp"
#include "lib/sheets/book/cells.hpp"

namespace fettlefund::sheets {

/// A book of one sheet: a row an amount, a chart of want-months over the amount, and the exact amounts at
/// which the best plan changes.
Book frontier_book(const planning::FrontierReport& frontier);

/// Writes that book to exactly `path`; errors and promises as of write_workbook.
void write_frontier_workbook(const planning::FrontierReport& frontier, const std::string& path);

}  // namespace fettlefund::sheets
