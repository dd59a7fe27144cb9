#pragma once
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>

#include "lib/build/json/tree.hpp"
#include "lib/build/read/findings.hpp"
#include "lib/build/read/read.hpp"
#include "lib/form/form.hpp"
#include "lib/form/writing/lay_out.hpp"
#include "lib/sheets/book/render.hpp"
#include "lib/sheets/xlsx/archive.hpp"

/// Forms in tests: written, typed into, read.
namespace fettlefund::test {

/// The bytes of the workbook.
inline std::string rendered(const sheets::Book& book) {
  std::string name = (std::filesystem::temp_directory_path() / "form-XXXXXX").string();
  const int file = ::mkstemp(name.data());
  if (file < 0) throw std::runtime_error("no temporary file");
  sheets::render(book, name);
  std::string bytes = sheets::file_bytes(name);
  std::filesystem::remove(name);
  return bytes;
}

/// The form of a build file's text, as sheets.
inline sheets::Book form_of(const std::string& text) {
  build::Findings findings("test.build", text);
  const build::Node root = build::parse_tree(text, findings);
  return form::lay_out(form::fill(root, {"EUR", 2}), "a test", 2);
}

/// An empty form with its examples.
inline sheets::Book blank_form() {
  form::Filled empty;
  empty.sheets.resize(form::all_sheets().size());
  return form::lay_out(empty, "a test", 2);
}

/// Types into the cell under the heading, in the row (counted as people do) of a table, or of the field.
inline void type(sheets::Book& book, const std::string& sheet_name, const std::string& heading, int row,
                 sheets::Value value) {
  for (sheets::Sheet& sheet : book.sheets) {
    if (sheet.name != sheet_name) continue;
    int column = -1;
    for (const auto& [place, cell] : sheet.cells) {
      const auto* text = std::get_if<std::string>(&cell.value);
      if (text == nullptr || *text != heading) continue;
      if (row == 0 && place.second == 1) row = place.first + 1, column = 2;
      if (row > 0 && place.first == 2) column = place.second;
    }
    sheet.cells.at({row - 1, column}).value = std::move(value);
    return;
  }
  throw std::logic_error("no sheet " + sheet_name);
}

inline form::Reading read(const sheets::Book& book) { return form::read_form(rendered(book), "form.xlsx"); }

/// All that is told, a line each.
inline std::string told(const std::vector<build::Diagnostic>& diagnostics) {
  std::string text;
  for (const build::Diagnostic& one : diagnostics) text += build::to_text(one) + "\n";
  return text;
}

}  // namespace fettlefund::test
