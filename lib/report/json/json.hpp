#pragma once
#include <string>
#include <vector>

#include "lib/build/diagnostic.hpp"
#include "lib/outcome/plan.hpp"

/// Reports for programs. README.md in this folder tells every key. Keys come in a fixed order, amounts of
/// money are decimal texts in the build's currency, dates are yyyy-mm-dd, the text ends with a line break.
namespace fettlefund::report {

/// `status` is "proven" or "stopped".
std::string json(const planning::Outcome& outcome);

/// `status` is "impossible".
std::string json(const planning::Conflict& conflict);

/// `status` is "no-plan".
std::string json(const planning::NoPlan& nothing);

/// `status` is "ok" without errors, else "bad-input".
std::string json(const std::vector<build::Diagnostic>& diagnostics);

}  // namespace fettlefund::report
