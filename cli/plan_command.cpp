#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/report/json.hpp"

namespace fettlefund::cli {

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
    return tell_no_plan(request, console, *nothing);
  }
  const auto& outcome = std::get<planning::Outcome>(planning);
  const std::string report =
      request.json ? report::json(outcome) : report::text(outcome, text_options(request, console));
  return reply(request, console, report, done);
}

}  // namespace fettlefund::cli
