#pragma once
#include <cstdint>

/// Amounts of money in minor units, without overflow between.
namespace fettlefund::budgets::search {

/// floor(a * b / c) for 0 <= a, b and 0 < c.
std::int64_t scale_down(std::int64_t a, std::int64_t b, std::int64_t c);

/// Spending with the allowance, rounded up.
std::int64_t with_allowance(std::int64_t bare, std::int64_t allowance_bp);

/// The part of a spending with allowance that is spent before the allowance, rounded down; -1 if it is
/// negative.
std::int64_t before_allowance(std::int64_t money, std::int64_t allowance_bp);

}  // namespace fettlefund::budgets::search
