#pragma once
#include <cstdint>
#include <functional>
#include <optional>

#include "budgets/what_if/what_if.hpp"

namespace fettlefund::budgets {

/// Is an amount enough? If so, `enough` (not more than the amount asked) is known to be, too.
struct Reply {
  Possible is = Possible::unknown;
  std::int64_t enough = 0;
};

/// The least amount that is enough, by a question that stays answered with yes once it is.
/// `least.at_least` says what is known from before and `least.at_most`, where set, what is known to be
/// enough; else `unlimited` is asked first. Ends early where a question stays open.
Least least_enough(const std::function<Reply(std::int64_t)>& ask, Least least, std::int64_t unlimited);

}  // namespace fettlefund::budgets
