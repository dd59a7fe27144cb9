#pragma once
#include <string>

#include "lib/outcome/outcome.hpp"

namespace fettlefund::report {

/// The plan as one self-contained HTML page for the bench: what to do next, the money, a card a stage, the
/// tools, the cautions in full, and the picture of the build. It loads nothing and reads without its script,
/// which only keeps ticks. Same outcome, same bytes.
std::string stage_cards(const planning::Outcome& outcome);

}  // namespace fettlefund::report
