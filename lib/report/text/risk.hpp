#pragma once
#include <string>

#include "lib/questions/risk.hpp"
#include "lib/report/text/text.hpp"

/// The risk of a plan for reading and for programs.
namespace fettlefund::report {

/// The chance of each stage in a table, the buffer, what carries the risk and what may be late, with standard
/// errors. Ends with a line break. `options.steps` does not matter.
std::string risk_text(const planning::RiskReport& risk, const TextOptions& options = {});

/// Keys in a fixed order. Amounts of money are decimal texts; chances are from 0 to 1 with six decimals at
/// most. `standard_error` is null where something was so in all samples or in none.
std::string risk_json(const planning::RiskReport& risk);

}  // namespace fettlefund::report
