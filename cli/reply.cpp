#include "cli/reply.hpp"

#include <ostream>

#include "lib/report/files/atomic_file.hpp"
#include "lib/report/json/json.hpp"

namespace fettlefund::cli {

report::TextOptions text_options(const Request& request, const Console& console, const std::string& as_of) {
  report::TextOptions options;
  options.as_of = as_of;
  options.steps = request.steps;
  options.thorough = request.effort == budgets::Effort::thorough;
  const bool fits = request.output.empty() && console.around.out_is_terminal && !console.around.no_colour;
  options.colour = request.colour == Colour::always || (request.colour == Colour::automatic && fits);
  return options;
}

int reply(const Request& request, const Console& console, const std::string& report, int code) {
  if (request.output.empty() || request.output == "-") {
    console.out << report;
    return code;
  }
  return written(console, [&] { report::write_file(request.output, report); }) ? code : bad_input;
}

int refuse(const Request& request, const Console& console, const Loaded& loaded) {
  if (request.json) console.out << report::json(loaded.diagnostics);
  return bad_input;
}

int tell_conflict(const Request& request, const Console& console, const planning::Conflict& conflict,
                  const std::string& as_of) {
  if (request.json) return reply(request, console, report::json(conflict), impossible);
  console.err << report::text(conflict, text_options(request, console, as_of));
  return impossible;
}

int tell_no_plan(const Request& request, const Console& console, const planning::NoPlan& nothing) {
  console.err << "fettlefund: stopped before a plan was found; try --effort thorough\n";
  return request.json ? reply(request, console, report::json(nothing), no_plan) : no_plan;
}

}  // namespace fettlefund::cli
