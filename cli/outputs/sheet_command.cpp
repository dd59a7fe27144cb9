#include <filesystem>
#include <ostream>

#include "cli/planned.hpp"
#include "cli/replacing.hpp"
#include "cli/standing.hpp"
#include "lib/progress/past.hpp"
#include "lib/report/files/atomic_file.hpp"
#include "lib/report/text/text.hpp"
#include "lib/sheets/book/workbook.hpp"

namespace fettlefund::cli {
namespace {

/// The workbook asked for, or the build file's name with .xlsx beside it; beside a form of that name one with
/// -plan.
std::string workbook_path(const Request& request) {
  if (!request.output.empty()) return request.output;
  std::filesystem::path path = request.file;
  if (path.extension() != ".xlsx") return path.replace_extension(".xlsx").string();
  return path.replace_filename(path.stem().string() + "-plan.xlsx").string();
}

/// Nobody wants the form that they filled in to be replaced by its plan.
bool is_the_form(const Request& request, const std::string& path) {
  std::error_code error;
  return begins_as_workbook(request.file) && std::filesystem::equivalent(path, request.file, error);
}

/// What is typed in the workbook that stands there now.
Typed typed_there(const Request& request, const build::Build& build) {
  const auto path = log_path(request);
  const log::Log log = path ? log::read_file(*path).log.value_or(log::Log{}) : log::Log{};
  return typed_in_workbook(workbook_path(request), build, log);
}

/// What has happened up to the day from which the rest is planned, as the log told it then.
planning::Past past_at(const Request& request, const build::Build& whole, const planning::Outcome& outcome) {
  const std::optional<budgets::Date> day = outcome.build->money.from;
  if (!day) return {};
  const auto path = request.no_log ? std::nullopt : log_path(request);
  log::Log log = path ? log::read_file(*path).log.value_or(log::Log{}) : log::Log{};
  if (log.entries.size() > outcome.build->log_entries) log.entries.resize(outcome.build->log_entries);
  return planning::past_of(whole, log, *day);
}

/// Looks once more at what is typed: planning takes its time.
int write(const Request& request, const Console& console, const build::Build& build,
          const planning::Outcome& outcome, const std::string& as_of) {
  const std::string path = workbook_path(request);
  const Typed typed = typed_there(request, build);
  if (!may_replace(request, console, path, typed)) return bad_input;
  const planning::Past past = past_at(request, build, outcome);
  std::string kept;
  const bool whole = written(console, [&] {
    report::write_atomically(path, [&](const std::string& temporary) {
      sheets::write_workbook(outcome, temporary, past);
      if (!typed.nothing()) kept = keep_beside(path);
    });
  });
  if (!whole) return bad_input;
  console.out << as_of_line(as_of);
  if (!kept.empty()) console.out << "What was typed in the earlier workbook is kept in " << kept << ".\n";
  console.out << "Wrote " << path << ".\n"
              << (outcome.stages.empty() && outcome.build->money.from
                      ? "Every stage is over: it shows what was planned, paid and done."
                      : report::proof_line(outcome))
              << '\n';
  return done;
}

}  // namespace

int sheet_command(const Request& request, const Console& console) {
  if (request.file == "-" && request.output.empty()) {
    console.err << "fettlefund: a build from standard input needs -o FILE for its workbook\n";
    return bad_input;
  }
  if (is_the_form(request, workbook_path(request))) {
    console.err << "fettlefund: " << workbook_path(request)
                << " is the form itself; name another file with -o\n";
    return bad_input;
  }
  std::optional<build::Build> whole;
  const auto may_go_on = [&](const build::Build& build) {
    whole = build;
    return may_replace(request, console, workbook_path(request), typed_there(request, build));
  };
  const UsePlan use = [&](const planning::Outcome& outcome, const std::string& as_of) {
    return write(request, console, *whole, outcome, as_of);
  };
  return with_plan(request, console, use, may_go_on, use);
}

}  // namespace fettlefund::cli
