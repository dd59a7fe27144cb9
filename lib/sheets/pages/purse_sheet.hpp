#pragma once
#include <string>
#include <vector>

#include "lib/purse/plan.hpp"
#include "lib/sheets/book/cells.hpp"

namespace fettlefund::sheets {

/// A book of one sheet: a row a payday with what each build spends, what is left of the purse and what is
/// done, a chart of the reserve, and a row a build with its workbook's name (`files`, one a build). Nothing
/// in it is for typing.
Book purse_book(const purse::Outcome& outcome, const std::vector<std::string>& files);

/// Writes that book to exactly `path`; errors and promises as of write_workbook.
void write_purse_workbook(const purse::Outcome& outcome, const std::vector<std::string>& files,
                          const std::string& path);

}  // namespace fettlefund::sheets
