#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "budgets/problem/problem.hpp"
#include "lib/sheets/book/cells.hpp"

/// Small words and measures of the sheets.
namespace fettlefund::sheets {

/// "3.5 h", "0.33 h": at most two decimals, rounded half up. `minutes` >= 0.
std::string write_hours(std::int64_t minutes);

std::string join(const std::vector<std::string>& parts, std::string_view between);

/// Characters of UTF-8 text, each counted as one standard width (wide East Asian ones as two); of the longest
/// line where the text has several.
double text_width(std::string_view text);
/// As above, of what the cell shows. Amounts are counted with thousands separators.
double text_width(const Cell& cell);

/// Lines that the text takes in a cell `width` characters wide, broken at words; at least 1. By the widths of
/// the standard font's letters, with a little to spare.
int wrapped_lines(std::string_view text, double width);

}  // namespace fettlefund::sheets
