#include <ostream>

#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/questions/risk.hpp"
#include "lib/report/text/risk.hpp"

namespace fettlefund::cli {
namespace {

int tell(const Request& request, const Console& console, const planning::RiskAnswer& answer,
         const std::string& as_of) {
  if (const auto* conflict = std::get_if<planning::Conflict>(&answer)) {
    return tell_conflict(request, console, *conflict, as_of);
  }
  if (const auto* nothing = std::get_if<planning::NoPlan>(&answer)) {
    return tell_no_plan(request, console, *nothing);
  }
  const auto& risk = std::get<planning::RiskReport>(answer);
  const std::string report =
      request.json ? report::risk_json(risk) : report::risk_text(risk, text_options(request, console, as_of));
  return reply(request, console, report, done);
}

}  // namespace

int risk_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  const std::optional<planning::Standing> standing = stand(request, console, *loaded.build);
  if (!standing) return bad_input;
  ProgressLine progress(request, console, stages_left(*standing));
  try {
    const planning::RiskAnswer answer = planning::risk(*standing->build, request.samples, progress.options());
    progress.end();
    return tell(request, console, answer, standing->as_of);
  } catch (const budgets::MoneyOverflow&) {
    progress.end();
    console.err << request.file << ": error: the high prices add up to more money than can be counted\n";
    return bad_input;
  }
}

}  // namespace fettlefund::cli
