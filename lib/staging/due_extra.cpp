#include "lib/staging/due_extra.hpp"

#include <algorithm>
#include <iterator>
#include <map>

#include "budgets/problem/tools.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::planning {
namespace {

std::vector<int> only_in_first(const std::vector<int>& a, const std::vector<int>& b) {
  std::vector<int> only;
  std::set_difference(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(only));
  return only;
}

std::vector<int> tools_bought(const View& view, int stage) {
  std::vector<int> tools;
  const auto& bought = view.plan.schedule.tool_bought;
  for (std::size_t k = 0; k < bought.size(); ++k) {
    if (bought[k] == stage) tools.push_back(static_cast<int>(k));
  }
  return tools;
}

std::optional<Money> cheapest(const std::vector<budgets::Way>& ways) {
  std::optional<Money> least;
  for (const budgets::Way& way : ways) least = least ? std::min(*least, way.price) : way.price;
  return least;
}

std::map<int, std::int64_t> packs_of(const budgets::Receipt& receipt) {
  std::map<int, std::int64_t> packs;
  for (const budgets::Purchase& purchase : receipt.lines) {
    if (purchase.line.article >= 0) packs[purchase.line.article] += purchase.line.packs;
  }
  return packs;
}

}  // namespace

ExtraOf::ExtraOf(const View& view, int stage)
    : view_(view), stage_(stage), buyer_(view.problem), stores_(buyer_.opening_stores()) {
  budgets::Receipt receipt;
  for (int t = 0; t < stage; ++t) {
    const budgets::StageCost& cost = view.cost(t);
    buyer_.buy(t, budgets::demand_of(view.problem, cost.jobs, cost.opened, tools_bought(view, t)), stores_,
               receipt);
  }
}

ExtraOf::Load ExtraOf::load_of(std::vector<int> jobs) const {
  const budgets::ProblemData& data = view_.problem.data();
  Load load;
  load.jobs = std::move(jobs);
  for (const int j : load.jobs) {
    const std::vector<int>& opened = view_.problem.opened_by(j);
    load.opened.insert(load.opened.end(), opened.begin(), opened.end());
  }
  budgets::sort_unique(load.opened);
  load.tools = budgets::tools_used(data, view_.plan.schedule, load.jobs, load.opened, stage_);
  return load;
}

budgets::Receipt ExtraOf::bought(const Load& load) const {
  budgets::Stores stores = stores_;
  budgets::Receipt receipt;
  buyer_.buy(stage_, budgets::demand_of(view_.problem, load.jobs, load.opened, {}), stores, receipt);
  return receipt;
}

std::optional<Money> ExtraOf::goods(const Load& with, const Load& without) const {
  const budgets::Receipt more = bought(with);
  if (!more.missing.empty()) return std::nullopt;
  const std::map<int, std::int64_t> packs = packs_of(more), anyway = packs_of(bought(without));
  Money total;
  for (const auto& [article, count] : packs) {
    const auto known = anyway.find(article);
    const std::int64_t extra = count - (known == anyway.end() ? 0 : known->second);
    total += *cheapest(buyer_.article_ways(article, stage_)) * extra;
  }
  return total;
}

std::optional<Money> ExtraOf::tools(const Load& with, const Load& without) const {
  Money total;
  for (const int k : only_in_first(with.tools, without.tools)) {
    const budgets::Tool& tool = view_.problem.data().tools[static_cast<std::size_t>(k)];
    const int bought = view_.plan.schedule.tool_bought[static_cast<std::size_t>(k)];
    const bool free = !tool.free.empty() && tool.free[static_cast<std::size_t>(stage_)];
    if (free || (bought >= 0 && bought < stage_)) continue;
    std::optional<Money> least = cheapest(buyer_.tool_ways(k, stage_));
    if (tool.hire) least = least ? std::min(*least, *tool.hire) : *tool.hire;
    if (!least) return std::nullopt;
    total += *least;
  }
  return total;
}

Extra ExtraOf::job(int j) const {
  std::vector<int> others;
  for (const int job : view_.cost(stage_).jobs) {
    if (job != j) others.push_back(job);
  }
  std::vector<int> all = others;
  all.insert(std::upper_bound(all.begin(), all.end(), j), j);
  const Load with = load_of(std::move(all)), without = load_of(std::move(others));
  Extra extra;
  extra.minutes = view_.job(j).minutes;
  for (const int r : only_in_first(with.opened, without.opened)) {
    extra.minutes += view_.removal(r).minutes_off + view_.removal(r).minutes_on;
  }
  const std::optional<Money> for_goods = goods(with, without), for_tools = tools(with, without);
  if (for_goods && for_tools) extra.money = view_.job(j).cost + *for_goods + *for_tools;
  return extra;
}

}  // namespace fettlefund::planning
