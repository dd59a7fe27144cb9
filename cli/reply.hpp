#pragma once
#include <string>

#include "cli/load.hpp"
#include "lib/report/text/text.hpp"

/// What the commands share that print a report, as text or as JSON.
namespace fettlefund::cli {

/// Colours only where asked for, or where a terminal shows the report. `as_of` is the report's first line.
report::TextOptions text_options(const Request& request, const Console& console,
                                 const std::string& as_of = {});

/// The report goes to the file asked for, else (and for -o -) to `out`. Returns `code`, or 2 where the file
/// cannot be written.
int reply(const Request& request, const Console& console, const std::string& report, int code);

/// A build with errors, which `load` has told: programs get a report as well. Returns 2.
int refuse(const Request& request, const Console& console, const Loaded& loaded);

/// The demands that conflict, on `err`; as JSON, a report. Returns 3.
int tell_conflict(const Request& request, const Console& console, const planning::Conflict& conflict,
                  const std::string& as_of);

/// Stopped before a plan was found. Returns 4.
int tell_no_plan(const Request& request, const Console& console, const planning::NoPlan& nothing);

}  // namespace fettlefund::cli
