#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "lib/build/read/read.hpp"

/// Whatever the bytes, the reader answers: with a build and no error, or with at least one error, and every
/// diagnostic points into the text and can be written on one line.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace fettlefund::build;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const Reading reading = read(text, "fuzz.build");
  if (reading.build.has_value() == has_errors(reading.diagnostics)) std::abort();
  if (reading.diagnostics.size() > max_diagnostics + 1) std::abort();
  for (const Diagnostic& diagnostic : reading.diagnostics) {
    const std::string line = to_text(diagnostic);
    if (line.find_first_of(std::string_view("\n\r\x1b\0", 4)) != std::string::npos) std::abort();
    if (diagnostic.place.line < 1 || diagnostic.place.column < 1) std::abort();
  }
  return 0;
}
