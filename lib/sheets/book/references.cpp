#include "lib/sheets/book/references.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {

std::string column_letters(int column) {
  std::string letters;
  for (int rest = column + 1; rest > 0; rest = (rest - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('A' + (rest - 1) % 26));
  return letters;
}

std::string reference(int row, int column) { return column_letters(column) + std::to_string(row + 1); }

std::string reference(const Range& range) {
  return reference(range.first_row, range.first_column) + ":" + reference(range.last_row, range.last_column);
}

std::string absolute(int row, int column) { return fmt::format("${}${}", column_letters(column), row + 1); }

std::string absolute(const std::string& sheet, const Range& range) {
  return fmt::format("'{}'!{}:{}", sheet, absolute(range.first_row, range.first_column),
                     absolute(range.last_row, range.last_column));
}

}  // namespace fettlefund::sheets
