#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/build/model.hpp"

namespace fettlefund::build {

/// Limits that hostile input meets before memory does.
inline constexpr std::size_t max_file_bytes = 8u << 20;
inline constexpr int max_depth = 64;
inline constexpr int max_entries = 20000;    ///< jobs, articles, ... together
inline constexpr int max_diagnostics = 200;  ///< then one line says that there are more

struct Reading {
  std::optional<Build> build;           ///< set when there is no error
  std::vector<Diagnostic> diagnostics;  ///< in file order; warnings too
};

/// Reads a build from its text. `file` is only used to name it in diagnostics.
Reading read(std::string_view text, const std::string& file);

/// Reads the file at `path`, refusing what is not a regular file or is larger than max_file_bytes.
Reading read_file(const std::string& path);

/// The JSON Schema (draft 2020-12) of the build file, as text; the same bytes as the installed schema file.
std::string_view schema();

}  // namespace fettlefund::build
