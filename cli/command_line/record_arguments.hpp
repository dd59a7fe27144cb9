#pragma once
#include <optional>
#include <string>

#include "cli/commands.hpp"

namespace CLI {
class App;
}

namespace fettlefund::cli {

/// Adds what can be recorded to the command `record`.
void add_record_actions(CLI::App& record, RecordRequest& to);

/// Adds an option whose value is a day.
void add_day(CLI::App& command, const std::string& name, std::optional<budgets::Date>& to,
             const std::string& what);

}  // namespace fettlefund::cli
