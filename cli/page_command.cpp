#include "cli/planned.hpp"
#include "lib/report/page/stage_cards.hpp"

namespace fettlefund::cli {

int page_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome) {
    return write_output(request, console, ".html", report::stage_cards(outcome));
  });
}

}  // namespace fettlefund::cli
