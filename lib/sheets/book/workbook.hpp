#pragma once
#include <string>

#include "lib/outcome/outcome.hpp"
#include "lib/progress/past.hpp"

namespace fettlefund::sheets {

/// Writes the workbook of a plan (Office Open XML, ISO/IEC 29500) to exactly `path`, replacing what is there;
/// a caller that must keep an earlier file whole writes to a temporary name and renames. The same outcome
/// gives the same bytes. Every formula carries the planner's own figure as its cached value. Texts from the
/// build are written as texts, never as formulas.
///
/// `past` is what has happened up to the day from which the outcome is planned: it is shown beside what is to
/// come. Nothing has where it is empty.
///
/// `outcome.build` must be set. Throws std::runtime_error with a plain message where the file cannot be
/// written, where a text is not valid UTF-8 or too long for a cell (32767 UTF-16 units), and where an amount
/// has more than 15 digits.
void write_workbook(const planning::Outcome& outcome, const std::string& path,
                    const planning::Past& past = {});

}  // namespace fettlefund::sheets
