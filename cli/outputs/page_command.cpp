#include <ostream>

#include "cli/planned.hpp"
#include "cli/replacing.hpp"
#include "lib/report/page/stage_cards.hpp"

namespace fettlefund::cli {

int page_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome, const std::string& as_of) {
    const std::string page = report::stage_cards(outcome), path = output_path(request, ".html");
    if (path.empty() || path == "-") return write_output(request, console, ".html", page, as_of);
    if (!write_page(console, path, page)) return bad_input;
    console.out << as_of_line(as_of) << "Wrote " << path << ".\n";
    return done;
  });
}

}  // namespace fettlefund::cli
