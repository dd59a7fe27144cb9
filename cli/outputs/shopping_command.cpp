#include "cli/planned.hpp"
#include "lib/report/files/csv.hpp"

namespace fettlefund::cli {

int shopping_command(const Request& request, const Console& console) {
  return with_plan(request, console, [&](const planning::Outcome& outcome, const std::string& as_of) {
    return write_output(request, console, ".csv", report::shopping_csv(outcome), as_of);
  });
}

}  // namespace fettlefund::cli
