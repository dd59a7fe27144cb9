#include <algorithm>
#include <filesystem>
#include <ostream>

#include "cli/planned.hpp"
#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "lib/log/read.hpp"
#include "lib/purse/plan.hpp"
#include "lib/report/files/atomic_file.hpp"
#include "lib/report/files/calendar.hpp"
#include "lib/report/files/csv.hpp"
#include "lib/report/page/stage_cards.hpp"
#include "lib/report/text/purse.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

/// Why the command cannot be carried out for a purse; empty: it can.
std::string refusal(const Request& request) {
  static const std::vector<std::string> known{"check", "plan", "shopping", "calendar", "page"};
  if (std::find(known.begin(), known.end(), request.command) == known.end())
    return fmt::format("{} is a purse; `{}` takes one of its build files. A purse goes with {}", request.file,
                       request.command, fmt::join(known, ", "));
  if (request.from) return "--from: a purse is planned from its beginning";
  if (request.json) return "--json tells of one build, not of a purse";
  if (request.command != "plan" && !request.output.empty())
    return "-o names one file, and a purse has one a build";
  return {};
}

/// Whether something is recorded of a build of the purse, which is then told.
bool recorded(const Request& request, const Console& console, const purse::Purse& purse) {
  if (request.no_log) return false;
  bool any = false;
  for (const purse::Member& member : purse.members) {
    for (const std::string& path : {log::path_for(member.path), log::older_path_for(member.path)}) {
      const log::Reading reading = log::read_file(path);
      if (!reading.log || reading.log->entries.empty()) continue;
      console.err << fmt::format(
          "fettlefund: {} tells what has happened to '{}', and a purse counts no records: plan the build "
          "alone, or "
          "with --no-log the purse as if nothing had happened\n",
          path, member.build.name);
      any = true;
    }
  }
  return any;
}

int tell_check(const Console& console, const purse::Reading& reading) {
  std::size_t jobs = 0;
  for (const purse::Member& member : reading.purse->members) jobs += member.build.jobs.size();
  console.out << fmt::format(
      "{}: no errors, {}, {}, {}, {}\n", reading.purse->name, counted(reading.purse->members.size(), "build"),
      counted(static_cast<std::size_t>(reading.purse->members.front().build.money.stages), "stage"),
      counted(jobs, "job"), counted(reading.diagnostics.size(), "warning"));
  return done;
}

/// "garage-bike.csv" for build bike of garage.purse, beside it.
std::string file_of(const Request& request, const purse::Share& share, const std::string& extension) {
  const std::filesystem::path path(request.file);
  return std::filesystem::path(path)
      .replace_filename(path.stem().string() + "-" + share.id + extension)
      .string();
}

int write_each(const Request& request, const Console& console, const purse::Outcome& outcome) {
  for (const purse::Share& share : outcome.shares) {
    const bool csv = request.command == "shopping", calendar = request.command == "calendar";
    const std::string path = file_of(request, share, csv ? ".csv" : calendar ? ".ics" : ".html");
    const std::string text = csv        ? report::shopping_csv(share.outcome)
                             : calendar ? report::calendar(share.outcome, {request.revision})
                                        : report::stage_cards(share.outcome);
    if (!written(console, [&] { report::write_file(path, text); })) return bad_input;
    console.out << "Wrote " << path << ".\n";
  }
  return done;
}

int tell(const Request& request, const Console& console, const purse::Outcome& outcome) {
  if (request.command != "plan") return write_each(request, console, outcome);
  const int stages = static_cast<int>(outcome.stages.size());
  if (request.stage > stages) {
    console.err << fmt::format("fettlefund: the plan has no stage {}; it has stages 1 to {}\n", request.stage,
                               stages);
    return bad_input;
  }
  report::TextOptions options = text_options(request, console);
  options.brief = request.brief;
  options.stage = request.stage;
  return reply(request, console, report::purse_text(outcome, options), done);
}

}  // namespace

int purse_command(const Request& request, const Console& console) {
  if (const std::string no = refusal(request); !no.empty()) {
    console.err << "fettlefund: " << no << '\n';
    return bad_input;
  }
  const purse::Reading reading = purse::read_file(request.file);
  for (const build::Diagnostic& one : reading.diagnostics) console.err << build::to_text(one) << '\n';
  if (!reading.purse) return bad_input;
  if (request.command == "check") return tell_check(console, reading);
  if (recorded(request, console, *reading.purse)) return bad_input;
  ProgressLine progress(request, console, reading.purse->members.front().build.money.stages);
  const purse::Planning planning = purse::plan(*reading.purse, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning))
    return tell_conflict(request, console, *conflict, "");
  if (const auto* nothing = std::get_if<planning::NoPlan>(&planning))
    return tell_no_plan(request, console, *nothing);
  return tell(request, console, std::get<purse::Outcome>(planning));
}

}  // namespace fettlefund::cli
