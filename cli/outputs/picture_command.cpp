#include "cli/planned.hpp"
#include "lib/report/picture/picture.hpp"

namespace fettlefund::cli {

int picture_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome, const std::string& as_of) {
    return write_output(request, console, ".svg", report::picture(outcome), as_of);
  });
}

}  // namespace fettlefund::cli
