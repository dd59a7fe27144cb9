#include "cli/standing.hpp"

#include <filesystem>
#include <fstream>
#include <ostream>
#include <stdexcept>

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

void tell(const Console& console, const std::vector<build::Diagnostic>& diagnostics) {
  for (const build::Diagnostic& diagnostic : diagnostics) console.err << build::to_text(diagnostic) << '\n';
}

bool is_there(const std::string& path) {
  std::error_code unreadable;
  return std::filesystem::exists(path, unreadable);
}

/// Two logs of one build: nobody knows which of them tells what there is.
bool two_logs(const Request& request) {
  constexpr std::string_view mark = "fettlefund-log";
  const std::string older = log::older_path_for(request.file);
  if (!is_there(log::path_for(request.file)) || !is_there(older)) return false;
  std::string first(mark.size(), ' ');
  std::ifstream(older, std::ios::binary).read(first.data(), static_cast<std::streamsize>(first.size()));
  return first == mark;
}

}  // namespace

std::optional<std::string> log_path(const Request& request) {
  if (request.file == "-") return std::nullopt;
  const std::string path = log::path_for(request.file), older = log::older_path_for(request.file);
  return !is_there(path) && is_there(older) ? older : path;
}

std::optional<log::Reading> read_log(const Request& request, const Console& console,
                                     const build::Build& build) {
  const std::optional<std::string> path = log_path(request);
  if (!path || request.no_log) return log::Reading{};
  if (two_logs(request)) {
    console.err << fmt::format(
        "fettlefund: {} and {} are both logs of this build; only one can hold its money: look at both, and "
        "move the one that does not count out of the folder\n",
        *path, log::older_path_for(request.file));
    return std::nullopt;
  }
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
  if (standing) standing->as_of = as_of_text(log, day, request.from.has_value());
  return standing;
}

std::string as_of_text(const std::optional<log::Log>& log, budgets::Date day, bool asked) {
  std::string why = asked ? "asked for" : "last entry of the record";
  if (log && asked) {
    const auto later = planning::history_of(*log, day).later;
    if (later > 0) {
      why += fmt::format("; {} later {} of the record {} left out", later, later == 1 ? "entry" : "entries",
                         later == 1 ? "is" : "are");
    }
  }
  return fmt::format("As of {} ({})", budgets::write_date(day), why);
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
