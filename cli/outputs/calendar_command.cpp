#include "cli/planned.hpp"
#include "lib/report/files/calendar.hpp"

namespace fettlefund::cli {

int calendar_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome, const std::string& as_of) {
    return write_output(request, console, ".ics", report::calendar(outcome, {request.revision}), as_of);
  });
}

}  // namespace fettlefund::cli
