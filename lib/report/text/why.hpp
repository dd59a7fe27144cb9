#pragma once
#include <string>

#include "lib/questions/why.hpp"
#include "lib/report/text/text.hpp"

/// What holds a job where it is, for reading and for programs.
namespace fettlefund::report {

/// A table of the stages before the job's own, then the nearest of them in sentences; where only one was
/// asked about, that one. Ends with a line break.
std::string why_text(const planning::WhyReport& why, const TextOptions& options = {});

/// Keys in a fixed order; README.md tells them.
std::string why_json(const planning::WhyReport& why);

}  // namespace fettlefund::report
