#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/read/read.hpp"

/// A build described in a workbook: the form. Its sheets and columns are told in `spec.hpp`.
namespace fettlefund::form {

/// Whether the bytes begin as a workbook does (a zip archive, or the older spreadsheet format), whatever the
/// file is called. No build file begins so.
bool is_workbook(std::string_view bytes);

struct Cells;  ///< which value of the text comes from which cell

/// A form, read. It is turned into the text of a build file, which the reader of builds then checks.
struct Reading {
  std::optional<build::Build> build;           ///< set when there is no error; its fingerprint is the text's
  std::vector<build::Diagnostic> diagnostics;  ///< by sheet, row and column; each points at a cell
  std::string text;                            ///< empty where the file could not be read at all
  std::shared_ptr<const Cells> cells;
};

/// Reads a form from its bytes; `file` names it in diagnostics. A formula counts as what it came to when the
/// workbook was last saved. Macros, links, pictures and formats are not looked at.
Reading read_form(std::string bytes, const std::string& file);

/// The same for the file at `path`.
Reading read_form_file(const std::string& path);

/// Diagnostics about the build of this reading (by pointer), pointing at cells instead.
std::vector<build::Diagnostic> in_cells(const Reading& reading, std::vector<build::Diagnostic> diagnostics);

}  // namespace fettlefund::form
