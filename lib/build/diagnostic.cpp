#include "lib/build/diagnostic.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

std::string place_text(const Diagnostic& diagnostic) {
  if (!diagnostic.cell.empty()) return fmt::format("{}: {}", diagnostic.file, diagnostic.cell);
  if (diagnostic.place.line == 0) return diagnostic.file;
  return fmt::format("{}:{}:{}", diagnostic.file, diagnostic.place.line, diagnostic.place.column);
}

}  // namespace

Place place_of(std::string_view text, std::size_t offset) {
  const std::string_view before = text.substr(0, offset);
  const std::size_t line_start = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  return Place{1 + static_cast<int>(std::count(before.begin(), before.end(), '\n')),
               1 + static_cast<int>(offset - line_start)};
}

std::string_view word_of(Severity severity) {
  if (severity == Severity::hint) return "hint";
  return severity == Severity::error ? "error" : "warning";
}

std::string to_text(const Diagnostic& diagnostic) {
  std::string text = fmt::format("{}: {}: ", place_text(diagnostic), word_of(diagnostic.severity));
  if (!diagnostic.pointer.empty()) text += diagnostic.pointer + ": ";
  if (!diagnostic.found.empty()) text += "found " + diagnostic.found;
  if (!diagnostic.found.empty() && !diagnostic.expected.empty()) text += ", ";
  if (!diagnostic.expected.empty()) text += "expected " + diagnostic.expected;
  if (!diagnostic.nearest.empty()) text += "; did you mean " + diagnostic.nearest + "?";
  return text;
}

bool has_errors(const std::vector<Diagnostic>& diagnostics) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [](const Diagnostic& diagnostic) { return diagnostic.severity == Severity::error; });
}

}  // namespace fettlefund::build
