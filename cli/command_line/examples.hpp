#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace fettlefund::cli {

/// One way to call a command.
struct Example {
  std::string_view command;  ///< the command, or the command and its action: "record bought"
  std::string_view line;     ///< what follows `fettlefund`
  std::string_view what;     ///< what it does
  bool first = false;        ///< one of the few that the program's own help shows
};

/// All examples, in the order in which a newcomer meets the commands.
const std::vector<Example>& examples();

/// The examples of one command as help shows them, or of the program's own help where `command` is empty.
/// Empty if there are none.
std::string examples_text(std::string_view command);

/// What each exit code means, as help and manual show it.
std::string exit_codes_text();

}  // namespace fettlefund::cli
