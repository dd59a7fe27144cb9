#pragma once
#include <string>

#include "cli/run.hpp"

/// `fettlefund-staging`: the staging solver for other programs, without builds (lib/exchange/README.md).
namespace fettlefund::cli {

/// Runs one command line; as `run` otherwise, with the same exit codes.
int run_staging(const std::vector<std::string>& args, std::istream& in, std::ostream& out, std::ostream& err,
                const Surroundings& surroundings = {});

/// What `--help` prints.
std::string staging_help();

}  // namespace fettlefund::cli
