#include "budgets/problem/tools.hpp"

#include <algorithm>
#include <limits>
#include <tuple>

#include "budgets/values/lists.hpp"

namespace fettlefund::budgets {
namespace {

constexpr std::int64_t out_of_reach = std::numeric_limits<std::int64_t>::max() / 4;

/// What hiring these tools costs, how many they are, and which: the least is taken.
using Pick = std::tuple<std::int64_t, std::size_t, std::vector<int>>;

Pick weighed(const ProblemData& data, std::vector<int> tools) {
  sort_unique(tools);
  std::int64_t cost = 0;
  for (const int k : tools) cost += data.tools[k].hire->minor();
  const std::size_t count = tools.size();
  return {cost, count, std::move(tools)};
}

/// The next way to pick one of each set; false after the last.
bool advance(const std::vector<std::vector<int>>& sets, std::vector<std::size_t>& places) {
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (++places[i] < sets[i].size()) return true;
    places[i] = 0;
  }
  return false;
}

Pick cheapest_pick(const ProblemData& data, const std::vector<std::vector<int>>& sets) {
  std::optional<Pick> best;
  std::vector<std::size_t> places(sets.size(), 0);
  do {
    std::vector<int> tools;
    for (std::size_t i = 0; i < sets.size(); ++i) tools.push_back(sets[i][places[i]]);
    Pick pick = weighed(data, std::move(tools));
    if (!best || pick < *best) best = std::move(pick);
  } while (advance(sets, places));
  return *best;
}

Pick each_cheapest(const ProblemData& data, const std::vector<std::vector<int>>& sets) {
  std::vector<int> tools;
  for (const std::vector<int>& set : sets) {
    tools.push_back(*std::min_element(set.begin(), set.end(), [&](int a, int b) {
      return std::tuple(*data.tools[a].hire, a) < std::tuple(*data.tools[b].hire, b);
    }));
  }
  return weighed(data, std::move(tools));
}

/// To have the tool at all.
std::int64_t least_cost(const Tool& tool) {
  if (contains({tool.free.begin(), tool.free.end()}, 1)) return 0;
  std::int64_t least = tool.hire ? tool.hire->minor() : out_of_reach;
  for (const Offer& offer : tool.offers) least = std::min(least, offer.price.minor());
  return least;
}

/// The tool whose cost for each of the sets that are still open is least.
int most_worth(const ProblemData& data, const std::vector<std::vector<int>>& any,
               const std::vector<int>& chosen) {
  int best = -1;
  std::int64_t best_cost = 0, best_count = 1;
  for (int k = 0; k < static_cast<int>(data.tools.size()); ++k) {
    std::int64_t count = 0;
    for (std::size_t i = 0; i < any.size(); ++i) count += chosen[i] < 0 && contains(any[i], k) ? 1 : 0;
    if (count == 0) continue;
    const std::int64_t cost = least_cost(data.tools[k]);
    const auto dearer = static_cast<double>(cost) * static_cast<double>(best_count) -
                        static_cast<double>(best_cost) * static_cast<double>(count);
    if (best < 0 || dearer < 0 || (dearer == 0 && count > best_count))
      best = k, best_cost = cost, best_count = count;
  }
  return best;
}

}  // namespace

bool is_free(const Tool& tool, int stage) { return !tool.free.empty() && tool.free[stage]; }

ToolNeeds tool_needs(const ProblemData& data, const std::vector<int>& jobs, const std::vector<int>& opened) {
  ToolNeeds needs;
  const auto add = [&](const auto& work) {
    needs.tools.insert(needs.tools.end(), work.tools.begin(), work.tools.end());
    needs.any.insert(needs.any.end(), work.any_tools.begin(), work.any_tools.end());
  };
  for (const int j : jobs) add(data.jobs[j]);
  for (const int r : opened) add(data.removals[r]);
  sort_unique(needs.tools);
  for (std::vector<int>& set : needs.any) sort_unique(set);
  sort_unique(needs.any);
  std::erase_if(needs.any, [&](const std::vector<int>& set) {
    return std::any_of(set.begin(), set.end(), [&](int k) { return contains(needs.tools, k); });
  });
  return needs;
}

std::optional<std::vector<int>> hired_of(const ProblemData& data, const std::vector<std::vector<int>>& any,
                                         const std::function<bool(int)>& had) {
  if (any.empty()) return std::vector<int>();
  std::vector<std::vector<int>> open;  // of the sets that have none, those to hire
  std::int64_t picks = 1;
  for (const std::vector<int>& set : any) {
    if (std::any_of(set.begin(), set.end(), had)) continue;
    std::vector<int>& hireable = open.emplace_back();
    for (const int k : set) {
      if (data.tools[k].hire) hireable.push_back(k);
    }
    if (hireable.empty()) return std::nullopt;
    picks = std::min(picks * static_cast<std::int64_t>(hireable.size()), most_picks + 1);
  }
  return std::get<2>(picks > most_picks ? each_cheapest(data, open) : cheapest_pick(data, open));
}

std::vector<int> usual_tools(const ProblemData& data, const std::vector<std::vector<int>>& any) {
  std::vector<int> chosen(any.size(), -1);
  while (contains(chosen, -1)) {
    const int tool = most_worth(data, any, chosen);
    for (std::size_t i = 0; i < any.size(); ++i) {
      if (chosen[i] < 0 && contains(any[i], tool)) chosen[i] = tool;
    }
  }
  return chosen;
}

std::vector<int> tools_used(const ProblemData& data, const Schedule& schedule, const std::vector<int>& jobs,
                            const std::vector<int>& opened, int stage) {
  ToolNeeds needs = tool_needs(data, jobs, opened);
  const auto had = [&](int k) {
    const int bought = schedule.tool_bought[k];
    return is_free(data.tools[k], stage) || (bought >= 0 && bought <= stage);
  };
  std::vector<int> tools = needs.tools;
  if (const auto hired = hired_of(data, needs.any, had)) {
    tools.insert(tools.end(), hired->begin(), hired->end());
    for (const std::vector<int>& set : needs.any) {
      const auto own = std::find_if(set.begin(), set.end(), had);
      if (own != set.end()) tools.push_back(*own);
    }
  } else {
    for (const int k : usual_tools(data, needs.any)) tools.push_back(k);
  }
  sort_unique(tools);
  return tools;
}

}  // namespace fettlefund::budgets
