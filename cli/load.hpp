#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "lib/build/read/read.hpp"
#include "lib/outcome/plan.hpp"

namespace fettlefund::cli {

/// A build read and checked. `build` is set when there is no error.
struct Loaded {
  std::optional<build::Build> build;
  std::vector<build::Diagnostic> diagnostics;
  bool is_form = false;
  std::string text;  ///< of a form: the build file that it amounts to
};

/// Reads the build file (or standard input) and checks it. A form does as well; what is one is told by its
/// content, not by its name. All diagnostics go to `err`, one a line.
Loaded load(const Request& request, const Console& console);

/// Whether the file begins as a workbook does.
bool begins_as_workbook(const std::string& path);

/// "1 error", "3 errors".
std::string counted(std::size_t number, const std::string& one);

/// Runs a writing step: a file that cannot be written is told on `err` and false.
bool written(const Console& console, const std::function<void()>& write);

}  // namespace fettlefund::cli
