#include <ostream>

#include "cli/commands.hpp"
#include "lib/report/text/work.hpp"
#include "lib/text/columns.hpp"

namespace fettlefund::cli {

int work_command(const Request& request, const Console& console) {
  if (request.word.empty()) {
    console.out << report::work_list(request.trade);
    return done;
  }
  const trade::Found found = trade::find_kinds(request.word);
  if (found.kinds.empty()) {
    console.err << "fettlefund: no kind of work goes by '" << text::printable(request.word)
                << "'; `fettlefund work` lists them all\n";
    return bad_input;
  }
  console.out << report::work_found(found, request.word);
  return done;
}

}  // namespace fettlefund::cli
