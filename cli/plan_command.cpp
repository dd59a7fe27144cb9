#include <ostream>

#include "cli/load.hpp"
#include "cli/progress.hpp"
#include "cli/standing.hpp"
#include "lib/report/atomic_file.hpp"
#include "lib/report/json.hpp"
#include "lib/report/text.hpp"

namespace fettlefund::cli {
namespace {

report::TextOptions text_options(const Request& request, const Console& console) {
  report::TextOptions options;
  options.steps = request.steps;
  const bool fits = request.output.empty() && console.around.out_is_terminal && !console.around.no_colour;
  options.colour = request.colour == Colour::always || (request.colour == Colour::automatic && fits);
  return options;
}

/// The report goes to the file asked for, else to `out`.
int deliver(const Request& request, const Console& console, const std::string& report, int code) {
  if (request.output.empty()) {
    console.out << report;
    return code;
  }
  const bool whole = written(console, [&] { report::write_file(request.output, report); });
  return whole ? code : bad_input;
}

/// A build with errors: programs get a report as well.
int refuse(const Request& request, const Console& console, const Loaded& loaded) {
  if (request.json) console.out << report::json(loaded.diagnostics);
  return bad_input;
}

int tell_conflict(const Request& request, const Console& console, const planning::Conflict& conflict) {
  const std::string text = report::text(conflict, text_options(request, console));
  if (!request.json) {
    console.err << text;
    return impossible;
  }
  return deliver(request, console, report::json(conflict), impossible);
}

int tell_nothing(const Request& request, const Console& console, const planning::NoPlan& nothing) {
  console.err << "fettlefund: stopped before a plan was found; try --effort thorough\n";
  return request.json ? deliver(request, console, report::json(nothing), no_plan) : no_plan;
}

}  // namespace

int plan_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  const std::optional<planning::Standing> standing = stand(request, console, *loaded.build);
  if (!standing) return bad_input;
  ProgressLine progress(request, console, stages_left(*standing));
  const planning::Planning planning = planning::replan(*standing, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning)) {
    return tell_conflict(request, console, *conflict);
  }
  if (const auto* nothing = std::get_if<planning::NoPlan>(&planning)) {
    return tell_nothing(request, console, *nothing);
  }
  const auto& outcome = std::get<planning::Outcome>(planning);
  const std::string report =
      request.json ? report::json(outcome) : report::text(outcome, text_options(request, console));
  return deliver(request, console, report, done);
}

}  // namespace fettlefund::cli
