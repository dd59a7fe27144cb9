#include <filesystem>
#include <ostream>

#include "cli/load.hpp"
#include "cli/progress.hpp"
#include "lib/report/atomic_file.hpp"
#include "lib/report/text.hpp"
#include "lib/sheets/workbook.hpp"

namespace fettlefund::cli {
namespace {

/// The workbook asked for, or the build file's name with .xlsx beside it.
std::string workbook_path(const Request& request) {
  if (!request.output.empty()) return request.output;
  return std::filesystem::path(request.file).replace_extension(".xlsx").string();
}

int write(const Request& request, const Console& console, const planning::Outcome& outcome) {
  const std::string path = workbook_path(request);
  const bool whole = written(console, [&] {
    report::write_atomically(
        path, [&](const std::string& temporary) { sheets::write_workbook(outcome, temporary); });
  });
  if (!whole) return bad_input;
  console.out << "Wrote " << path << ".\n" << report::proof_line(outcome) << '\n';
  return done;
}

}  // namespace

int sheet_command(const Request& request, const Console& console) {
  if (request.file == "-" && request.output.empty()) {
    console.err << "fettlefund: a build from standard input needs -o FILE for its workbook\n";
    return bad_input;
  }
  const Loaded loaded = load(request, console);
  if (!loaded.build) return bad_input;
  ProgressLine progress(request, console, loaded.build->money.stages);
  const planning::Planning planning = planning::plan(*loaded.build, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning)) {
    console.err << report::text(*conflict);
    return impossible;
  }
  if (std::holds_alternative<planning::NoPlan>(planning)) {
    console.err << "fettlefund: stopped before a plan was found; try --effort thorough\n";
    return no_plan;
  }
  return write(request, console, std::get<planning::Outcome>(planning));
}

}  // namespace fettlefund::cli
