#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/log/entry.hpp"

namespace fettlefund::log {

/// Limits that hostile logs meet before memory does.
inline constexpr std::size_t max_file_bytes = 16u << 20;
inline constexpr std::size_t max_line_bytes = 2u << 20;
inline constexpr std::size_t max_entries = 100'000;
inline constexpr std::size_t max_diagnostics = 200;  ///< then one line says that there are more

/// The end of a log that was cut short while it was written. Only `append` cuts it off.
struct Torn {
  std::uint64_t begin = 0;  ///< first byte of it
  int line = 0;
};

struct Reading {
  std::optional<Log> log;  ///< set where there is a log without an error; an empty file is none
  std::vector<build::Diagnostic> diagnostics;  ///< in file order; a torn end is a warning
  std::optional<Torn> torn;
  bool newline_missing = false;  ///< the last entry is whole, only its line break is not there
};

/// Reads a log from its text; `file` names it in diagnostics. A last line that has no line break or a wrong
/// checksum is torn: it counts as not written. (One whose checksum is right counts even without its line
/// break.) Anything else that is wrong, anywhere, is an error.
Reading read(std::string_view text, const std::string& file);

/// Reads the log at `path` and changes nothing. No such file: neither log nor diagnostics.
Reading read_file(const std::string& path);

}  // namespace fettlefund::log
