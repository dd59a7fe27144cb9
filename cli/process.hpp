#pragma once
#include "cli/run.hpp"

namespace fettlefund::cli {

/// The surroundings of this process. From now on the first interrupt (Ctrl-C) asks the running command to
/// stop and a second one ends the process.
Surroundings watch_process();

}  // namespace fettlefund::cli
