#pragma once
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "lib/sheets/book/render.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/read_workbook.hpp"

namespace fettlefund::test {

/// A workbook in which somebody types, before it is saved. Rows are found by key, columns by heading.
class TypedWorkbook {
 public:
  explicit TypedWorkbook(const planning::Outcome& outcome, const planning::Past& past = {})
      : book_(sheets::make_book(outcome, past)) {}

  sheets::Cell& cell(const std::string& sheet_name, const std::string& key, const std::string& heading) {
    sheets::Sheet& one = sheet(sheet_name);
    int row = -1, column = -1;
    for (const auto& [place, cell] : one.cells) {
      const auto* text = std::get_if<std::string>(&cell.value);
      if (text && *text == key) row = place.first;
      if (text && *text == heading && place.first == one.header_row) column = place.second;
    }
    const auto found = one.cells.find({row, column});
    if (found == one.cells.end()) throw std::logic_error("no cell " + heading + " of " + key);
    return found->second;
  }
  void type(const std::string& sheet_name, const std::string& key, const std::string& heading,
            sheets::Value value) {
    cell(sheet_name, key, heading).value = std::move(value);
  }
  void save(const std::string& path) const { sheets::render(book_, path); }

  /// As it is read back from a file.
  sheets::StoredBook stored() const {
    std::string name = (std::filesystem::temp_directory_path() / "typed-XXXXXX").string();
    const int file = ::mkstemp(name.data());
    if (file < 0) throw std::runtime_error("no temporary file");
    save(name);
    sheets::StoredBook book = sheets::read_xlsx(sheets::file_bytes(name));
    std::filesystem::remove(name);
    return book;
  }

 private:
  sheets::Sheet& sheet(const std::string& name) {
    const auto found = std::find_if(book_.sheets.begin(), book_.sheets.end(),
                                    [&](const auto& one) { return one.name == name; });
    if (found == book_.sheets.end()) throw std::logic_error("no sheet " + name);
    return *found;
  }

  sheets::Book book_;
};

/// "Shopping I7 error: found ..." of each thing told, a line each.
inline std::string told(const std::vector<sheets::Remarkable>& all) {
  std::string lines;
  for (const sheets::Remarkable& one : all)
    lines += one.sheet + " " + one.cell + (one.error ? " error: " : " warning: ") + one.text + "\n";
  return lines;
}

}  // namespace fettlefund::test
