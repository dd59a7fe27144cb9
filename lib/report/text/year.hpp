#pragma once
#include <string>

#include "lib/progress/year.hpp"
#include "lib/report/text/text.hpp"

namespace fettlefund::report {

/// Money, suppliers, kinds, stages, jobs and prices in tables. Ends with a line break.
std::string year_text(const planning::Year& year, const TextOptions& options = {});

/// The same for programs: see README.md in lib/report. Ends with a line break.
std::string year_json(const planning::Year& year);

/// The offers of the build file at whose price something was not bought, each as a line to paste in its
/// place, with the price really paid as the likely one. A range of prices is widened where the price lies
/// outside it. Ends with a line break.
std::string prices_text(const planning::Year& year);

}  // namespace fettlefund::report
