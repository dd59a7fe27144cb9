#include <ostream>

#include "cli/load.hpp"
#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/questions/why.hpp"
#include "lib/report/json/json.hpp"
#include "lib/report/text/why.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

template <class Entry>
bool has(const std::vector<Entry>& entries, const build::Id& id) {
  for (const Entry& entry : entries) {
    if (entry.id == id) return true;
  }
  return false;
}

/// Why there is nothing to ask about, where the build has no such job to plan. Empty: it has.
std::string refusal(const Request& request, const build::Build& build, const planning::Standing& standing) {
  if (has(standing.build->jobs, request.job)) return {};
  for (const planning::LeftOut& closed : standing.closed) {
    if (closed.job == request.job) return fmt::format("{} is closed: {}", closed.name, closed.reason);
  }
  if (has(build.jobs, request.job)) return fmt::format("'{}' is done already", request.job);
  std::vector<std::string> ids;
  for (const build::Job& job : build.jobs) ids.push_back(job.id);
  const std::string nearest = text::nearest_name(request.job, text::Names(ids));
  return fmt::format("the build has no job '{}'{}", request.job,
                     nearest.empty() ? "" : fmt::format("; did you mean '{}'?", nearest));
}

int tell(const Request& request, const Console& console, const planning::WhyAnswer& answer,
         const std::string& as_of) {
  if (const auto* conflict = std::get_if<planning::Conflict>(&answer)) {
    return tell_conflict(request, console, *conflict, as_of);
  }
  if (const auto* nothing = std::get_if<planning::NoPlan>(&answer)) {
    return tell_no_plan(request, console, *nothing);
  }
  const auto& why = std::get<planning::WhyReport>(answer);
  return reply(
      request, console,
      request.json ? report::why_json(why) : report::why_text(why, text_options(request, console, as_of)),
      done);
}

}  // namespace

int why_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  const std::optional<planning::Standing> standing = stand(request, console, *loaded.build);
  if (!standing) return bad_input;
  if (const std::string no = refusal(request, *loaded.build, *standing); !no.empty()) {
    console.err << "fettlefund: " << no << '\n';
    return bad_input;
  }
  const int stages = standing->build->money.stages;
  if (request.stage > stages || (request.stage > 0 && request.stage <= standing->build->money.stages_over)) {
    console.err << fmt::format("fettlefund: --stage {} is none of the stages to come ({} to {})\n",
                               request.stage, standing->build->money.stages_over + 1, stages);
    return bad_input;
  }
  ProgressLine progress(request, console, stages_left(*standing));
  const planning::WhyAnswer answer = planning::why(*standing, request.job, request.stage, progress.options());
  progress.end();
  return tell(request, console, answer, standing->as_of);
}

}  // namespace fettlefund::cli
