#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "budgets/problem/problem.hpp"
#include "budgets/values/money.hpp"
#include "lib/build/model.hpp"

/// Figures in words, the same in every output.
namespace fettlefund::planning {

/// Hours: "1.5 h", "0.25 h", "2 h"; where two decimals do not tell it exactly, "1 h 20 min".
std::string hours_text(std::int64_t minutes);

/// An amount of an article, from thousandths: "1.5", "2", "0.125".
std::string amount_text(budgets::Quantity amount);

/// "A", "A and B", "A, B and C"; nothing for nothing.
std::string list_text(const std::vector<std::string>& items);

/// "12.50 EUR".
std::string money_text(const build::Build& build, budgets::Money amount);

/// "stage 3 (bench 2026-03-28)" for stage 2, counted from 0 over the whole build.
std::string stage_text(int stage, budgets::Date bench);

/// Tenths of a want-month, rounded towards zero, for want-days. A month is 30.4375 days, a twelfth of 365.25.
std::int64_t want_month_tenths(std::int64_t want_days);
/// The same rounded up, for what nothing is worth more than.
std::int64_t want_month_tenths_at_most(std::int64_t want_days);

/// These as want-months with one decimal, thousands with commas: "1,234.5".
std::string want_months_text(std::int64_t want_days);
std::string want_months_at_most_text(std::int64_t want_days);

}  // namespace fettlefund::planning
