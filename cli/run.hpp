#pragma once
#include <atomic>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "budgets/values/date.hpp"

namespace fettlefund::cli {

/// What a command may know of the process it runs in. The defaults are those of a test: no terminal.
struct Surroundings {
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  bool no_colour = false;                   ///< NO_COLOR is set and not empty
  const std::atomic<bool>* stop = nullptr;  ///< becomes true when the user asks to stop
  std::optional<budgets::Date> today = {};  ///< by the local clock: the date of what is recorded without one
  /// Something that no other run has: what two people record alike at the same place stays two lines.
  std::string salt = {};
};

/// Runs one command line without a process, so that tests can call it.
/// `args` holds the words after the program's name. Reports go to `out`, diagnostics and progress to `err`.
/// Returns the exit code: 0 done, 1 internal fault, 2 bad input or usage, 3 proven impossible,
/// 4 stopped before a plan was found. Never throws.
int run(const std::vector<std::string>& args, std::istream& in, std::ostream& out, std::ostream& err,
        const Surroundings& surroundings = {});

}  // namespace fettlefund::cli
