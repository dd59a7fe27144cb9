#pragma once
#include <string>

#include "lib/outcome/outcome.hpp"

namespace fettlefund::report {

/// A bar a stage for the cash left after its payday, with a line for what must stay, as an SVG element to
/// stand in a page. Its title and description tell what it shows; the colours are the page's. At least one
/// stage.
std::string reserve_chart(const planning::Outcome& outcome);

}  // namespace fettlefund::report
