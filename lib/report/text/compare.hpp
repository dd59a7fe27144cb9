#pragma once
#include <string>

#include "lib/questions/compare.hpp"
#include "lib/report/text/text.hpp"

/// A build under changes, for reading and for programs. Texts end with a line break.
namespace fettlefund::report {

/// Figures side by side, then the jobs that move. At most four columns stay within 80.
std::string compare_text(const planning::Comparison& comparison, const TextOptions& options = {});
std::string compare_json(const planning::Comparison& comparison);

/// A line an amount, then the exact amounts at which the best plan changes.
std::string frontier_text(const planning::FrontierReport& frontier, const TextOptions& options = {});
std::string frontier_json(const planning::FrontierReport& frontier);

}  // namespace fettlefund::report
