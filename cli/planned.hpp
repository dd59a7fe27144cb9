#pragma once
#include <functional>
#include <string>

#include "cli/load.hpp"

/// What the commands share that turn a plan into a file.
namespace fettlefund::cli {

/// What a command makes of a plan, and of the line that tells as of which day it is (empty: nothing is
/// recorded, no day asked for). Returns the exit code.
using UsePlan = std::function<int(const planning::Outcome& outcome, const std::string& as_of)>;

/// Reads, checks and plans the build, then lets `use` make something of the outcome and returns its code.
/// Where there is no outcome, tells why (on `err`, and as JSON where asked for) and returns 2, 3 or 4.
/// `may_go_on`, if given, is asked with the build as it was read before anything is planned; where it answers
/// false, it has told why, and 2 is returned. `when_over`, if given, is used where every stage is over, with
/// an outcome that has no stages (lib/progress/closing.hpp); without it such a build is told as an error.
int with_plan(const Request& request, const Console& console, const UsePlan& use,
              const std::function<bool(const build::Build&)>& may_go_on = {}, const UsePlan& when_over = {});

/// The file asked for, or the build file's name with this extension (".csv"); empty where the build comes
/// from standard input and no file is named.
std::string output_path(const Request& request, const std::string& extension);

/// Writes the text to `output_path` and says so, after the line `as_of`; to `out`, and nothing else, where -o
/// is "-". Returns the code.
int write_output(const Request& request, const Console& console, const std::string& extension,
                 const std::string& text, const std::string& as_of);

/// The line with its line break; nothing of an empty one.
std::string as_of_line(const std::string& as_of);

}  // namespace fettlefund::cli
