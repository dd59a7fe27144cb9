#pragma once
#include <functional>
#include <string>

#include "cli/commands.hpp"

namespace fettlefund::cli {

/// Writes a workbook to exactly this path.
using WriteTo = std::function<void(const std::string& path)>;

/// Lets `write` write a new workbook at `path`, whole or not at all; false, with the reason on standard
/// error, where something stands there already or it cannot be written.
bool write_new_workbook(const std::string& path, const Console& console, const WriteTo& write);

}  // namespace fettlefund::cli
