#include <algorithm>
#include <ostream>

#include "cli/planned.hpp"
#include "cli/reply.hpp"
#include "lib/report/json/json.hpp"

namespace fettlefund::cli {
namespace {

bool has_stage(const planning::Outcome& outcome, int number) {
  return std::any_of(outcome.stages.begin(), outcome.stages.end(),
                     [&](const planning::StageView& stage) { return stage.number == number; });
}

int no_such_stage(const planning::Outcome& outcome, const Console& console, int number) {
  console.err << "fettlefund: the plan has no stage " << number;
  if (!outcome.stages.empty()) {
    console.err << "; it has stages " << outcome.stages.front().number << " to "
                << outcome.stages.back().number;
  }
  console.err << '\n';
  return bad_input;
}

}  // namespace

int plan_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome, const std::string& as_of) {
    if (request.stage > 0 && !has_stage(outcome, request.stage))
      return no_such_stage(outcome, console, request.stage);
    report::TextOptions options = text_options(request, console, as_of);
    options.brief = request.brief;
    options.stage = request.stage;
    const std::string report = request.json ? report::json(outcome) : report::text(outcome, options);
    return reply(request, console, report, done);
  });
}

}  // namespace fettlefund::cli
