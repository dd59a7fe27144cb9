#include "cli/planned.hpp"
#include "cli/reply.hpp"
#include "lib/report/json/json.hpp"

namespace fettlefund::cli {

int plan_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome) {
    const std::string report =
        request.json ? report::json(outcome) : report::text(outcome, text_options(request, console));
    return reply(request, console, report, done);
  });
}

}  // namespace fettlefund::cli
