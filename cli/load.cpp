#include "cli/load.hpp"

#include <filesystem>
#include <fstream>
#include <istream>
#include <iterator>
#include <ostream>
#include <stdexcept>

#include "lib/form/form.hpp"

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

Loaded loaded_form(form::Reading reading) {
  Loaded loaded;
  loaded.is_form = true;
  loaded.diagnostics = reading.diagnostics;
  loaded.text = reading.text;
  if (reading.build)
    for (build::Diagnostic& more : form::in_cells(reading, planning::check(*reading.build)))
      loaded.diagnostics.push_back(std::move(more));
  loaded.build = std::move(reading.build);
  return loaded;
}

Loaded loaded_text(build::Reading reading) {
  Loaded loaded;
  loaded.diagnostics = std::move(reading.diagnostics);
  if (reading.build)
    for (build::Diagnostic& more : planning::check(*reading.build))
      loaded.diagnostics.push_back(std::move(more));
  loaded.build = std::move(reading.build);
  return loaded;
}

Loaded read_any(const Request& request, const Console& console) {
  if (request.file != "-")
    return begins_as_workbook(request.file) ? loaded_form(form::read_form_file(request.file))
                                            : loaded_text(build::read_file(request.file));
  std::string text = read_all(console.in);
  return form::is_workbook(text) ? loaded_form(form::read_form(std::move(text), "standard input"))
                                 : loaded_text(build::read(text, "standard input"));
}

}  // namespace

bool begins_as_workbook(const std::string& path) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) return false;
  std::ifstream stream(path, std::ios::binary);
  std::string first(4, '\0');
  stream.read(first.data(), static_cast<std::streamsize>(first.size()));
  return form::is_workbook(std::string_view(first).substr(0, static_cast<std::size_t>(stream.gcount())));
}

Loaded load(const Request& request, const Console& console) {
  Loaded loaded = read_any(request, console);
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
