#pragma once
#include <optional>
#include <string>

#include "cli/load.hpp"
#include "lib/log/read.hpp"
#include "lib/progress/replan.hpp"

/// The build as it stands now: what its log says is taken into account.
namespace fettlefund::cli {

/// The log of the request's build: NAME.record, or NAME.log where there is only that, from an earlier
/// version. Nothing for a build from standard input.
std::optional<std::string> log_path(const Request& request);

/// Reads the log of the request's build and holds it against the build. All diagnostics go to `err`. Nothing:
/// it has errors, or there are two logs. An empty Reading::log: there is none, or it is not to be read.
std::optional<log::Reading> read_log(const Request& request, const Console& console,
                                     const build::Build& build);

/// What is left to plan, by the log beside the build file if there is one and from the day asked for. Without
/// either it is the build itself. The standing tells its day in words: every command says it, and plans as of
/// the same day as all others. Nothing: `err` tells why there is nothing to plan.
std::optional<planning::Standing> stand(const Request& request, const Console& console,
                                        const build::Build& build);

/// As `stand`, for a log already read.
std::optional<planning::Standing> stand_by(const std::optional<log::Log>& log, const Request& request,
                                           const Console& console, const build::Build& build);

/// "As of 2027-03-31 (last entry of the record)", for people, without a full stop. `asked`: the day was asked
/// for.
std::string as_of_text(const std::optional<log::Log>& log, budgets::Date day, bool asked);

int stages_left(const planning::Standing& standing);

}  // namespace fettlefund::cli
