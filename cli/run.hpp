#pragma once
#include <iosfwd>
#include <string>
#include <vector>

namespace fettlefund::cli {

/// Runs one command line without a process, so that tests can call it.
/// `args` holds the words after the program's name. Reports go to `out`, diagnostics and progress to `err`.
/// Returns the exit code: 0 done, 1 internal fault, 2 bad input or usage, 3 proven impossible,
/// 4 stopped before a plan was found. Never throws.
int run(const std::vector<std::string>& args, std::istream& in, std::ostream& out, std::ostream& err);

}  // namespace fettlefund::cli
