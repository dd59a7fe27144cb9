#pragma once
#include <string>

/// Places of a sheet as formulas write them. Rows and columns count from 0.
namespace fettlefund::sheets {

struct Range {
  int first_row = 0, first_column = 0, last_row = 0, last_column = 0;  ///< inclusive
};

std::string column_letters(int column);                              ///< 0 is "A"
std::string reference(int row, int column);                          ///< "B7"
std::string reference(const Range& range);                           ///< "B7:B9"
std::string absolute(int row, int column);                           ///< "$B$7"
std::string absolute(const std::string& sheet, const Range& range);  ///< "'Work order'!$B$7:$B$9"

}  // namespace fettlefund::sheets
