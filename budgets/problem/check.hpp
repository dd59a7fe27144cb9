#pragma once
#include "budgets/problem/problem.hpp"

namespace fettlefund::budgets {

/// Limits that keep every sum of every plan far inside 64 bits (see Problem).
struct Limits {
  static constexpr std::int64_t money = 100'000'000'000'000;       ///< minor units, 10^14
  static constexpr std::int64_t worth = 100'000'000'000'000;       ///< 10^14
  static constexpr std::int64_t minutes = 1'000'000'000'000;       ///< 10^12
  static constexpr std::int64_t quantity = 1'000'000'000'000'000;  ///< thousandths, 10^15
  static constexpr int days = 1'000'000;                           ///< longest lead and keeping time, in days
  static constexpr int calendar = 10'000'000;  ///< dates lie within this many days of 1970-01-01
};

/// Checks fields and indices one by one. Throws std::invalid_argument at the first fault.
void check_fields(const ProblemData& data);

/// Checks that no plan can move more than Limits allow. Needs data that passed check_fields.
void check_magnitudes(const ProblemData& data);

}  // namespace fettlefund::budgets
