#pragma once
#include <string>
#include <vector>

#include "lib/build/model.hpp"

namespace fettlefund::planning {

/// An article that a job or an opened removal uses up or fits.
struct ArticleDemand {
  int article = 0;                ///< index into Build::articles
  budgets::Quantity amount;       ///< > 0, rules counted
  budgets::Quantity by_rule = 0;  ///< the part of it that a rule added
  std::string why;                ///< of the first rule that added to it, else empty
};

/// What one job, or one removal each time it is opened, needs.
struct Demand {
  std::vector<ArticleDemand> articles;  ///< each article once, in order of first mention
  std::vector<int> tools;  ///< indices into Build::articles, each once, wrenches without choice last
  std::vector<std::vector<int>> any_tools;  ///< of each of these one: wrenches that cover a torque, ascending
  std::vector<build::Torque> uncovered;     ///< torques that no wrench of the build covers
};

struct Demands {
  std::vector<Demand> jobs, removals;  ///< as in the Build
};

/// What the file lists, what the easily-forgotten rules add where the build has an article for it, and for
/// each torque figure a wrench that covers it: one that is listed; else one that is owned and there (of
/// several the lowest id); else any that can be bought, hired or borrowed, or is on its way: the plan
/// chooses.
Demands demands_of(const build::Build& build);

/// Is the tool listed as owned?
bool owned(const build::Build& build, int article);

/// Does the wrench cover the torque, by its marked range (both ends included)? Where only the highest value
/// is marked, the lowest is assumed as fitment::assumed_lowest_share says.
bool wrench_covers(const build::Article& wrench, const build::Torque& torque);

}  // namespace fettlefund::planning
