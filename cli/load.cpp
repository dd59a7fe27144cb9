#include "cli/load.hpp"

#include <istream>
#include <iterator>
#include <ostream>
#include <stdexcept>

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Standard input up to one byte more than a build file may have, so that the reader refuses what is larger.
std::string read_all(std::istream& in) {
  std::string text(build::max_file_bytes + 1, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  return text;
}

}  // namespace

Loaded load(const Request& request, const Console& console) {
  build::Reading reading = request.file == "-" ? build::read(read_all(console.in), "standard input")
                                               : build::read_file(request.file);
  Loaded loaded{std::move(reading.build), std::move(reading.diagnostics)};
  if (loaded.build) {
    for (build::Diagnostic& more : planning::check(*loaded.build))
      loaded.diagnostics.push_back(std::move(more));
  }
  for (const build::Diagnostic& diagnostic : loaded.diagnostics) {
    console.err << build::to_text(diagnostic) << '\n';
  }
  if (build::has_errors(loaded.diagnostics)) loaded.build.reset();
  return loaded;
}

std::string counted(std::size_t number, const std::string& one) {
  return fmt::format("{} {}{}", number, one, number == 1 ? "" : "s");
}

bool written(const Console& console, const std::function<void()>& write) {
  try {
    write();
    return true;
  } catch (const std::runtime_error& error) {
    console.err << "fettlefund: " << error.what() << '\n';
    return false;
  }
}

}  // namespace fettlefund::cli
