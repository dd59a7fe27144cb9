#pragma once
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>

#include "budgets/problem/problem.hpp"

namespace fettlefund::testing {

inline budgets::Money cents(std::int64_t amount) { return budgets::Money::of_minor(amount); }

/// `count` stages 30 days apart from day 20000, bench 10 days after payday, 100 in each, 600 minutes, no
/// jobs.
inline budgets::ProblemData plain_stages(int count) {
  budgets::ProblemData data;
  for (int t = 0; t < count; ++t) {
    const budgets::Date payday{20000 + 30 * t};
    data.stages.push_back({payday, payday + 10, cents(100), {}, 600});
  }
  return data;
}

/// A job worth `want` for each stage it is enjoyed.
inline budgets::Job plain_job(const budgets::ProblemData& data, std::int64_t want, std::int64_t cost = 0,
                              std::int64_t minutes = 0) {
  budgets::Job job;
  const auto stages = static_cast<std::int64_t>(data.stages.size());
  for (std::int64_t t = 0; t < stages; ++t) job.worth.push_back(want * (stages - t));
  job.cost = cents(cost);
  job.minutes = minutes;
  return job;
}

/// One stage with 60 minutes on day 20010, 20017 and 20024 each.
inline budgets::ProblemData three_evenings() {
  budgets::ProblemData data = plain_stages(1);
  data.stages[0].minutes = 180;
  data.stages[0].last = budgets::Date{20024};
  data.stages[0].marks = {{budgets::Date{20010}, 60}, {budgets::Date{20017}, 120}};
  return data;
}

/// A job worth 1 for each stage, with a day within its stage or none.
inline budgets::Job evening_job(const budgets::ProblemData& data, std::int64_t minutes,
                                std::optional<budgets::Date> by) {
  budgets::Job job = plain_job(data, 1, 0, minutes);
  job.by = by;
  return job;
}

/// Why a problem of this data is refused; "accepted" if it is not.
inline std::string refusal(const budgets::ProblemData& data) {
  try {
    budgets::Problem problem(data);
  } catch (const std::invalid_argument& fault) {
    return fault.what();
  }
  return "accepted";
}

}  // namespace fettlefund::testing
