#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "budgets/problem/plan.hpp"

/// Which tools a stage uses where any of several will do.
namespace fettlefund::budgets {

/// What the work of a stage asks for; all ascending.
struct ToolNeeds {
  std::vector<int> tools;             ///< each of them
  std::vector<std::vector<int>> any;  ///< of each of these one, as far as none of `tools` is among them
};

ToolNeeds tool_needs(const ProblemData& data, const std::vector<int>& jobs, const std::vector<int>& opened);

/// The tools to be hired so that each of the sets has one that is had (free or bought by then) or hired: at
/// least cost, then the fewest, then the lowest indices. Nothing where a set has none that is had or can be
/// hired. With more than `most_picks` ways to pick one tool of each set, each set has its cheapest.
std::optional<std::vector<int>> hired_of(const ProblemData& data, const std::vector<std::vector<int>>& any,
                                         const std::function<bool(int)>& had);

constexpr std::int64_t most_picks = 4096;

/// For each of these sets one of its tools, so that all of them together cost about as little as may be to
/// buy or to hire once: what to try first.
std::vector<int> usual_tools(const ProblemData& data, const std::vector<std::vector<int>>& any);

/// Whether the tool is owned or borrowed in the stage.
bool is_free(const Tool& tool, int stage);

/// The tools that work in a stage of the schedule uses or could not do without: of each set one that is had
/// by then, else one that can be hired, else a usual one.
std::vector<int> tools_used(const ProblemData& data, const Schedule& schedule, const std::vector<int>& jobs,
                            const std::vector<int>& opened, int stage);

}  // namespace fettlefund::budgets
