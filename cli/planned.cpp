#include "cli/planned.hpp"

#include <filesystem>
#include <ostream>

#include "cli/progress.hpp"
#include "cli/reply.hpp"
#include "cli/standing.hpp"
#include "lib/progress/closing.hpp"
#include "lib/report/files/atomic_file.hpp"

namespace fettlefund::cli {
namespace {

/// The day asked for, or that of the last entry, where every stage is over on it.
std::optional<budgets::Date> day_when_over(const Request& request, const build::Build& build,
                                           const std::optional<log::Log>& log) {
  const std::optional<budgets::Date> last = log ? planning::last_day(*log) : std::nullopt;
  const std::optional<budgets::Date> day = request.from ? request.from : last;
  return day && planning::all_over(build, *day) ? day : std::nullopt;
}

int close(const Request& request, const Console& console, const build::Build& build,
          const std::optional<log::Log>& log, budgets::Date day, const UsePlan& use) {
  std::optional<planning::Closing> closing;
  try {
    closing = planning::close_on(build, log.value_or(log::Log{}), day);
  } catch (const budgets::MoneyOverflow&) {
    console.err << "fettlefund: the amounts of the log are too large together to add up\n";
    return bad_input;
  }
  return use(closing->outcome, as_of_text(log, day, request.from.has_value()));
}

}  // namespace

int with_plan(const Request& request, const Console& console, const UsePlan& use,
              const std::function<bool(const build::Build&)>& may_go_on, const UsePlan& when_over) {
  const Loaded loaded = load(request, console);
  if (!loaded.build) return refuse(request, console, loaded);
  if (may_go_on && !may_go_on(*loaded.build)) return bad_input;
  const std::optional<log::Reading> reading = read_log(request, console, *loaded.build);
  if (!reading) return bad_input;
  if (const auto day = day_when_over(request, *loaded.build, reading->log); day && when_over)
    return close(request, console, *loaded.build, reading->log, *day, when_over);
  const std::optional<planning::Standing> standing = stand_by(reading->log, request, console, *loaded.build);
  if (!standing) return bad_input;
  ProgressLine progress(request, console, stages_left(*standing));
  const planning::Planning planning = planning::replan(*standing, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning)) {
    return tell_conflict(request, console, *conflict, standing->as_of);
  }
  if (const auto* nothing = std::get_if<planning::NoPlan>(&planning)) {
    return tell_no_plan(request, console, *nothing);
  }
  return use(std::get<planning::Outcome>(planning), standing->as_of);
}

std::string output_path(const Request& request, const std::string& extension) {
  if (!request.output.empty()) return request.output;
  if (request.file == "-") return {};
  return std::filesystem::path(request.file).replace_extension(extension).string();
}

int write_output(const Request& request, const Console& console, const std::string& extension,
                 const std::string& text, const std::string& as_of) {
  const std::string path = output_path(request, extension);
  if (path == "-") {
    console.err << as_of_line(as_of);
    console.out << text;
    return done;
  }
  if (path.empty()) {
    console.err << "fettlefund: a build from standard input needs -o FILE for what is written\n";
    return bad_input;
  }
  if (!written(console, [&] { report::write_file(path, text); })) return bad_input;
  console.out << as_of_line(as_of) << "Wrote " << path << ".\n";
  return done;
}

std::string as_of_line(const std::string& as_of) { return as_of.empty() ? "" : as_of + "\n"; }

}  // namespace fettlefund::cli
