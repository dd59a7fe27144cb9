#include <ostream>

#include "cli/load.hpp"
#include "cli/progress.hpp"
#include "lib/planning/risk.hpp"
#include "lib/report/atomic_file.hpp"
#include "lib/report/json.hpp"
#include "lib/report/risk.hpp"

namespace fettlefund::cli {
namespace {

int deliver(const Request& request, const Console& console, const std::string& report, int code) {
  if (request.output.empty() || request.output == "-") {
    console.out << report;
    return code;
  }
  return written(console, [&] { report::write_file(request.output, report); }) ? code : bad_input;
}

report::TextOptions text_options(const Request& request, const Console& console) {
  report::TextOptions options;
  const bool fits = request.output.empty() && console.around.out_is_terminal && !console.around.no_colour;
  options.colour = request.colour == Colour::always || (request.colour == Colour::automatic && fits);
  return options;
}

int tell(const Request& request, const Console& console, const planning::RiskAnswer& answer) {
  if (const auto* conflict = std::get_if<planning::Conflict>(&answer)) {
    console.err << report::text(*conflict);
    return request.json ? deliver(request, console, report::json(*conflict), impossible) : impossible;
  }
  if (const auto* nothing = std::get_if<planning::NoPlan>(&answer)) {
    console.err << "fettlefund: stopped before a plan was found; try --effort thorough\n";
    return request.json ? deliver(request, console, report::json(*nothing), no_plan) : no_plan;
  }
  const auto& risk = std::get<planning::RiskReport>(answer);
  const std::string report =
      request.json ? report::risk_json(risk) : report::risk_text(risk, text_options(request, console));
  return deliver(request, console, report, done);
}

}  // namespace

int risk_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) {
    if (request.json) console.out << report::json(loaded.diagnostics);
    return bad_input;
  }
  ProgressLine progress(request, console, loaded.build->money.stages);
  try {
    const planning::RiskAnswer answer = planning::risk(*loaded.build, request.samples, progress.options());
    progress.end();
    return tell(request, console, answer);
  } catch (const budgets::MoneyOverflow&) {
    progress.end();
    console.err << request.file << ": error: the high prices add up to more money than can be counted\n";
    return bad_input;
  }
}

}  // namespace fettlefund::cli
