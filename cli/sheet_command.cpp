#include <filesystem>
#include <ostream>

#include "cli/planned.hpp"
#include "lib/report/files/atomic_file.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/book/workbook.hpp"

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
  return with_plan(request, console,
                   [&](const planning::Outcome& outcome) { return write(request, console, outcome); });
}

}  // namespace fettlefund::cli
