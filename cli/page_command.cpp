#include "cli/planned.hpp"
#include "lib/report/page/stage_cards.hpp"

namespace fettlefund::cli {

int page_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome, const std::string& as_of) {
    return write_output(request, console, ".html", report::stage_cards(outcome), as_of);
  });
}

}  // namespace fettlefund::cli
