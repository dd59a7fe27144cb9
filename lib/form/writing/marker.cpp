#include "lib/form/writing/marker.hpp"

#include "lib/sheets/read_back/cell_reading.hpp"

namespace fettlefund::form {
namespace {

const sheets::StoredSheet* marker_of(const sheets::StoredBook& book) {
  for (const sheets::StoredSheet& sheet : book.sheets) {
    const auto cell = sheet.cells.find({0, 0});
    if (sheet.name == marker_sheet && cell != sheet.cells.end() && cell->second.text == marker_word)
      return &sheet;
  }
  return nullptr;
}

}  // namespace

bool has_marker(const sheets::StoredBook& book) { return marker_of(book) != nullptr; }

int marked_version(const sheets::StoredBook& book) {
  const sheets::StoredSheet* sheet = marker_of(book);
  const auto cell = sheet->cells.find({0, 1});
  if (cell == sheet->cells.end()) return 0;
  return static_cast<int>(sheets::read_whole(&cell->second, 0, 1'000'000).value.value_or(0));
}

}  // namespace fettlefund::form
