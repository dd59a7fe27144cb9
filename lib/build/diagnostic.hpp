#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/model.hpp"

namespace fettlefund::build {

enum class Severity { error, warning, hint };

/// One thing wrong with a build file, pointing at it.
struct Diagnostic {
  Severity severity = Severity::error;
  std::string file;
  Place place;
  std::string pointer;   ///< JSON pointer (RFC 6901), "/jobs/new-chain/want"; of a form the heading, "Want"
  std::string found;     ///< the offending text, shortened to 40 bytes at a character boundary
  std::string expected;  ///< in words
  std::string nearest;   ///< the nearest known name, or empty
  std::string cell{};    ///< of a form instead of `place`: "Jobs C7", or a sheet; else empty
};

/// The place of byte `offset` in `text`; columns count bytes.
Place place_of(std::string_view text, std::size_t offset);

std::string_view word_of(Severity severity);  ///< "error", "warning" or "hint"

/// "file:line:column: error: POINTER: found FOUND, expected EXPECTED; did you mean NEAREST?" (parts that are
/// empty are left out; no line break at the end). Of a form "file: CELL: error: HEADING: found ...".
std::string to_text(const Diagnostic& diagnostic);

bool has_errors(const std::vector<Diagnostic>& diagnostics);

}  // namespace fettlefund::build
