#include <ostream>

#include "cli/reply.hpp"
#include "lib/report/text/drive.hpp"

namespace fettlefund::cli {
namespace {

std::string drive_output(const Request& request, const Console& console, const build::Build& build) {
  const planning::DriveReport drive = planning::drive_report(build);
  if (request.json) return report::drive_json(build, drive);
  return report::drive_text(build, drive, text_options(request, console));
}

}  // namespace

int drive_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  if (!loaded.build->drive) {
    console.err << request.file << ": no drive train is described; add \"drive\" to the build file\n";
    return bad_input;
  }
  return reply(request, console, drive_output(request, console, *loaded.build), done);
}

}  // namespace fettlefund::cli
