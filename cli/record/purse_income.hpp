#pragma once
#include <optional>
#include <vector>

#include "cli/load.hpp"
#include "lib/log/entry.hpp"

/// What a purse brought, kept in the records of its builds.
namespace fettlefund::cli {

/// Notes in the entries what opening cash, income and dated money of the purse came to up to their days, if a
/// purse file in the folder of the request's build file names that build: whatever becomes of the purse file,
/// that stays so. `log` is the build's. Warns on `err` of a purse file with errors, and where several name
/// the build; then nothing is noted.
void note_purse_income(const Request& request, const Console& console, const build::Build& build,
                       const log::Log& log, std::vector<log::NewEntry>& batch);

}  // namespace fettlefund::cli
