#include <ostream>

#include "cli/load.hpp"
#include "lib/report/atomic_file.hpp"
#include "lib/report/drive.hpp"
#include "lib/report/json.hpp"

namespace fettlefund::cli {
namespace {

bool coloured(const Request& request, const Console& console) {
  if (request.colour != Colour::automatic) return request.colour == Colour::always;
  return request.output.empty() && console.around.out_is_terminal && !console.around.no_colour;
}

std::string drive_output(const Request& request, const Console& console, const build::Build& build) {
  const planning::DriveReport drive = planning::drive_report(build);
  if (request.json) return report::drive_json(build, drive);
  report::TextOptions options;
  options.colour = coloured(request, console);
  return report::drive_text(build, drive, options);
}

}  // namespace

int drive_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) {
    if (request.json) console.out << report::json(loaded.diagnostics);
    return bad_input;
  }
  if (!loaded.build->drive) {
    console.err << request.file << ": no drive train is described; add \"drive\" to the build file\n";
    return bad_input;
  }
  const std::string text = drive_output(request, console, *loaded.build);
  if (request.output.empty() || request.output == "-") {
    console.out << text;
    return done;
  }
  return written(console, [&] { report::write_file(request.output, text); }) ? done : bad_input;
}

}  // namespace fettlefund::cli
