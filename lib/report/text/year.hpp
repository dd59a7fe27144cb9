#pragma once
#include <string>

#include "lib/progress/year.hpp"
#include "lib/report/text/text.hpp"

namespace fettlefund::report {

/// Money, suppliers, kinds, stages, jobs and prices in tables. Ends with a line break.
std::string year_text(const planning::Year& year, const TextOptions& options = {});

}  // namespace fettlefund::report
