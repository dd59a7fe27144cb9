#include "lib/questions/least.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

namespace fettlefund::planning {
namespace {

using budgets::Money;

std::set<int> opened_by(const budgets::Problem& problem, const std::vector<int>& jobs) {
  std::set<int> opened;
  for (const int j : jobs) opened.insert(problem.opened_by(j).begin(), problem.opened_by(j).end());
  return opened;
}

std::optional<Money> lowest_price(const std::vector<budgets::Offer>& offers) {
  std::optional<Money> lowest;
  for (const budgets::Offer& offer : offers) {
    if (!lowest || offer.price < *lowest) lowest = offer.price;
  }
  return lowest;
}

Money least_for_article(const budgets::Article& article, budgets::Quantity amount) {
  for (const budgets::Lot& lot : article.on_hand) amount -= lot.amount;
  const std::optional<Money> price = lowest_price(article.offers);
  if (amount <= 0 || !price) return {};
  return *price * ((amount + article.pack - 1) / article.pack);
}

Money least_for_tool(const budgets::Tool& tool) {
  if (std::any_of(tool.free.begin(), tool.free.end(), [](char free) { return free != 0; })) return {};
  const std::optional<Money> price = lowest_price(tool.offers);
  if (!price) return tool.hire.value_or(Money());
  return tool.hire ? std::min(*price, *tool.hire) : *price;
}

/// Fees, articles and tools of jobs and removals added up.
class Tally {
 public:
  explicit Tally(const budgets::ProblemData& data) : data_(data) {}

  void add(Money fee, const std::vector<budgets::Need>& needs, const std::vector<int>& tools) {
    fees_ += fee;
    for (const budgets::Need& need : needs) amounts_[need.article] += need.amount;
    tools_.insert(tools.begin(), tools.end());
  }

  Money total() const {
    Money sum = fees_;
    for (const auto& [article, amount] : amounts_) {
      sum += least_for_article(data_.articles[static_cast<std::size_t>(article)], amount);
    }
    for (const int tool : tools_) sum += least_for_tool(data_.tools[static_cast<std::size_t>(tool)]);
    return sum + budgets::percentage_rounded_up(sum, data_.allowance_bp);
  }

 private:
  const budgets::ProblemData& data_;
  Money fees_;
  std::map<int, budgets::Quantity> amounts_;
  std::set<int> tools_;
};

}  // namespace

Money least_cost(const budgets::Problem& problem, const std::vector<int>& jobs) {
  const budgets::ProblemData& data = problem.data();
  Tally tally(data);
  for (const int j : jobs) {
    const budgets::Job& job = data.jobs[static_cast<std::size_t>(j)];
    tally.add(job.cost, job.needs, job.tools);
  }
  for (const int r : opened_by(problem, jobs)) {
    const budgets::Removal& removal = data.removals[static_cast<std::size_t>(r)];
    tally.add(removal.cost, removal.one_use, removal.tools);
  }
  return tally.total();
}

Hurried hurried(const budgets::Problem& problem, const std::vector<int>& jobs, int last, int stage) {
  const budgets::ProblemData& data = problem.data();
  std::map<int, int> latest;  // of removals: the last stage of the first job that opens them
  std::map<int, budgets::Quantity> amounts;
  const auto add = [&](const std::vector<budgets::Need>& needs, int by) {
    for (const budgets::Need& need : needs) {
      const auto& offers = data.articles[static_cast<std::size_t>(need.article)].offers;
      const bool early = std::all_of(offers.begin(), offers.end(), [&](const budgets::Offer& offer) {
        return budgets::order_stage(data, offer, by) <= stage;
      });
      if (early && !offers.empty()) amounts[need.article] += need.amount;
    }
  };
  for (const int j : jobs) {
    const int by = std::min(problem.latest(j), last);
    add(data.jobs[static_cast<std::size_t>(j)].needs, by);
    for (const int r : problem.opened_by(j)) {
      const auto [at, is_new] = latest.emplace(r, by);
      if (!is_new) at->second = std::min(at->second, by);
    }
  }
  for (const auto& [r, by] : latest) add(data.removals[static_cast<std::size_t>(r)].one_use, by);
  Hurried found;
  Tally tally(data);
  for (const auto& [article, amount] : amounts) {
    if (least_for_article(data.articles[static_cast<std::size_t>(article)], amount) == Money()) continue;
    found.articles.push_back(article);
    tally.add({}, {{article, amount}}, {});
  }
  found.least = tally.total();
  return found;
}

std::vector<int> with_what_they_ask(const budgets::ProblemData& data, std::vector<int> jobs) {
  std::set<int> all(jobs.begin(), jobs.end());
  while (!jobs.empty()) {
    const int j = jobs.back();
    jobs.pop_back();
    const auto ask = [&](int other) {
      if (all.insert(other).second) jobs.push_back(other);
    };
    for (const int before : data.jobs[static_cast<std::size_t>(j)].after) ask(before);
    for (const std::vector<int>& group : data.together) {
      if (std::find(group.begin(), group.end(), j) == group.end()) continue;
      for (const int other : group) ask(other);
    }
  }
  return {all.begin(), all.end()};
}

Money most_to_spend(const budgets::ProblemData& data, int stage) {
  Money cash = data.opening;
  std::optional<Money> most;
  for (std::size_t t = 0; t < data.stages.size(); ++t) {
    cash += data.stages[t].cash_in;
    const Money here = cash - data.stages[t].floor;
    if (static_cast<int>(t) >= stage && (!most || here < *most)) most = here;
  }
  return most.value_or(Money());
}

std::int64_t least_minutes(const budgets::Problem& problem, const std::vector<int>& jobs) {
  std::int64_t minutes = 0;
  for (const int j : jobs) minutes += problem.data().jobs[static_cast<std::size_t>(j)].minutes;
  for (const int r : opened_by(problem, jobs)) {
    minutes += problem.data().removals[static_cast<std::size_t>(r)].minutes;
  }
  return minutes;
}

}  // namespace fettlefund::planning
