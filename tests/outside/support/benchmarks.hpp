#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "budgets/problem/problem.hpp"

namespace fettlefund::outside {

/// The text of a file of ../shared/data beside the repository; nothing where it is absent.
std::optional<std::string> shared_data(const std::string& name);

/// A Next Release Problem: a customer pays if everything asked for, and what that needs, is bought.
struct Release {
  struct Customer {
    std::int64_t profit = 0;
    std::vector<int> asks;
  };
  std::vector<std::int64_t> costs;      ///< of the requirements
  std::vector<std::vector<int>> needs;  ///< of each requirement, directly
  std::vector<Customer> customers;

  /// The share of the cost of all requirements, in tenths, rounded half up.
  std::int64_t budget(int tenths) const;
};
Release read_release(const std::string& text);

/// How requirements are expressed in a single stage.
enum class ReleaseForm {
  tools,     ///< bought once; a customer uses those asked for with all they need
  removals,  ///< charged once in the stage, with what they need
  jobs       ///< of no worth, done `after` what they need
};
budgets::ProblemData release_problem(const Release& release, std::int64_t budget, ReleaseForm form);

/// Several budgets at once: choose items of most value so that no row exceeds its limit.
struct Rows {
  std::int64_t optimum = 0;  ///< as published
  std::vector<std::int64_t> values;
  std::vector<std::vector<std::int64_t>> rows;  ///< [row][item]
  std::vector<std::int64_t> limits;
};

/// The problems of a file of the OR-Library's multidimensional knapsack form, every number times ten.
std::vector<Rows> read_rows(const std::string& text);

/// A stage a row, its limit the hours. An item is a chain of jobs, one fixed to each stage, each after the
/// one before; only the last is worth anything, so the item counts exactly if it keeps every row.
budgets::ProblemData rows_problem(const Rows& rows);

}  // namespace fettlefund::outside
