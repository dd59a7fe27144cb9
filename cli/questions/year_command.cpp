#include <ostream>

#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/progress/year.hpp"
#include "lib/report/text/year.hpp"
#include "lib/staging/stages.hpp"

namespace fettlefund::cli {

int year_command(const Request& request, const Console& console) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  const std::optional<log::Reading> reading = read_log(request, console, *loaded.build);
  if (!reading) return bad_input;
  log::Log log;
  if (reading->log) log = *reading->log;
  const std::optional<budgets::Date> last = planning::last_day(log);
  const budgets::Date first = planning::calendar_of(loaded.build->money).paydays.front();
  const budgets::Date day = request.from ? *request.from : last.value_or(first);
  try {
    const planning::Year year = planning::year_of(*loaded.build, log, day);
    const std::string as_of =
        request.from || last ? as_of_text(reading->log, day, request.from.has_value()) : "";
    const std::string text = request.prices ? report::prices_text(year)
                             : request.json ? report::year_json(year)
                                            : report::year_text(year, text_options(request, console, as_of));
    return reply(request, console, text, done);
  } catch (const budgets::MoneyOverflow&) {
    console.err << "fettlefund: the amounts of the log are too large together to add up\n";
    return bad_input;
  }
}

}  // namespace fettlefund::cli
