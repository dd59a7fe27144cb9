#include <algorithm>
#include <ostream>

#include "cli/load.hpp"
#include "lib/check/hints.hpp"
#include "lib/report/json/json.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

std::string contents(const build::Build& build) {
  return fmt::format("{}, {}, {}, {}", counted(static_cast<std::size_t>(build.money.stages), "stage"),
                     counted(build.jobs.size(), "job"), counted(build.removals.size(), "removal"),
                     counted(build.articles.size(), "article"));
}

}  // namespace

int check_command(const Request& request, const Console& console) {
  Loaded loaded = load(request, console);
  std::size_t hints = 0;
  if (loaded.build) {
    for (build::Diagnostic& hint : planning::hints(*loaded.build)) {
      console.err << build::to_text(hint) << '\n';
      loaded.diagnostics.push_back(std::move(hint));
      ++hints;
    }
  }
  if (request.json) console.out << report::json(loaded.diagnostics);
  const auto errors = static_cast<std::size_t>(
      std::count_if(loaded.diagnostics.begin(), loaded.diagnostics.end(),
                    [](const auto& one) { return one.severity == build::Severity::error; }));
  const std::string warnings = counted(loaded.diagnostics.size() - errors - hints, "warning");
  if (!loaded.build) {
    console.err << fmt::format("{}: {}, {}\n", request.file, counted(errors, "error"), warnings);
    return bad_input;
  }
  if (!request.json) {
    console.out << fmt::format("{}: no errors, {}, {}{}\n", loaded.build->name, contents(*loaded.build),
                               warnings, hints == 0 ? "" : ", " + counted(hints, "hint"));
  }
  return done;
}

}  // namespace fettlefund::cli
