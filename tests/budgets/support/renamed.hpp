#pragma once
#include <vector>

#include "budgets/problem/problem.hpp"
#include "tests/budgets/support/random.hpp"

namespace fettlefund::testing {

/// A problem in another order, and where its jobs went.
struct Renamed {
  budgets::ProblemData data;
  std::vector<int> job_to;  ///< [job of the original] index in `data`
  std::vector<int> removal_to = {}, supplier_to = {};
};

/// The same problem with everything that has an index or a place in a list in a random order: jobs, removals,
/// suppliers, articles, tools, carriers, clashes, groups, and the entries of every list of these, offers and
/// lots included. Stages stay.
Renamed renamed(const budgets::ProblemData& data, Random& random);

/// The same problem with jobs, removals, suppliers, clashes, groups, renewals and the entries of lists of
/// indices in a random order, where jobs, removals and suppliers have the place that they had as their rank.
/// Articles, tools, offers, lots and carriers stay.
Renamed relisted(const budgets::ProblemData& data, Random& random);

}  // namespace fettlefund::testing
