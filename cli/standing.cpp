#include "cli/standing.hpp"

#include <ostream>
#include <stdexcept>

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

void tell(const Console& console, const std::vector<build::Diagnostic>& diagnostics) {
  for (const build::Diagnostic& diagnostic : diagnostics) console.err << build::to_text(diagnostic) << '\n';
}

}  // namespace

std::optional<std::string> log_path(const Request& request) {
  if (request.file == "-") return std::nullopt;
  return log::path_for(request.file);
}

std::optional<log::Reading> read_log(const Request& request, const Console& console,
                                     const build::Build& build) {
  const std::optional<std::string> path = log_path(request);
  if (!path || request.no_log) return log::Reading{};
  log::Reading reading = log::read_file(*path);
  if (reading.log) {
    for (build::Diagnostic& more : planning::check_log(build, *reading.log)) {
      reading.diagnostics.push_back(std::move(more));
    }
  }
  tell(console, reading.diagnostics);
  if (!build::has_errors(reading.diagnostics)) return reading;
  console.err << "fettlefund: the log cannot be used as it is; put the line back as it was, or plan with "
                 "--no-log as if nothing had happened\n";
  return std::nullopt;
}

std::optional<planning::Standing> stand_by(const std::optional<log::Log>& log, const Request& request,
                                           const Console& console, const build::Build& build) {
  const std::optional<budgets::Date> last = log ? planning::last_day(*log) : std::nullopt;
  if (!last && !request.from) return planning::Standing{build, {}, {}};
  const budgets::Date day = request.from ? *request.from : *last;
  std::optional<planning::Standing> standing;
  try {
    standing = planning::stand_on(build, log.value_or(log::Log{}), day, request.keep_days);
    if (standing->build) const budgets::Problem small_enough(planning::to_staging(*standing->build).problem);
  } catch (const budgets::MoneyOverflow&) {
    standing.reset();
  } catch (const std::invalid_argument&) {
    standing.reset();
  }
  if (!standing) console.err << "fettlefund: the amounts of the log are too large together to plan with\n";
  if (standing && !standing->build) {
    console.err << fmt::format(
        "fettlefund: every stage of {} is over on {}; more stages in the build file's money "
        "would let it go on\n",
        request.file, budgets::write_date(day));
    return std::nullopt;
  }
  if (standing && log && last) {
    console.err << fmt::format("fettlefund: planned from {} on with {} of {}; --no-log leaves them out\n",
                               budgets::write_date(day), counted(log->entries.size(), "log line"), log->file);
  }
  return standing;
}

std::optional<planning::Standing> stand(const Request& request, const Console& console,
                                        const build::Build& build) {
  const std::optional<log::Reading> reading = read_log(request, console, build);
  if (!reading) return std::nullopt;
  return stand_by(reading->log, request, console, build);
}

int stages_left(const planning::Standing& standing) {
  return standing.build->money.stages - standing.build->money.stages_over;
}

}  // namespace fettlefund::cli
