#pragma once
#include <string>

#include "budgets/solve.hpp"

namespace fettlefund::exchange {

/// The answer to a problem in the exchange form, as README.md of this folder tells it: one JSON object and a
/// line break. std::logic_error where the verifier refuses the plan.
std::string write_answer(const budgets::Problem& problem, const budgets::Result& result);

}  // namespace fettlefund::exchange
