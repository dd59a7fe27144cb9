#include "lib/staging/demands.hpp"

#include <algorithm>
#include <iterator>
#include <optional>

#include "budgets/values/lists.hpp"
#include "lib/drive/links.hpp"
#include "lib/fitment/torque_wrench.hpp"
#include "lib/goods/forgotten.hpp"
#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

void add(Demand& demand, int article, budgets::Quantity amount) {
  for (ArticleDemand& known : demand.articles) {
    if (known.article == article) {
      known.amount += amount;
      return;
    }
  }
  demand.articles.push_back({article, amount, 0, {}});
}

void add_listed(Demand& demand, const std::vector<build::Use>& uses, const IdTable& articles) {
  for (const build::Use& use : uses) {
    if (const int article = articles.find(use.article); article >= 0 && use.amount > 0) {
      add(demand, article, use.amount);
    }
  }
}

void add_forgotten(Demand& demand, const std::vector<goods::ForgottenNeed>& needs) {
  for (const goods::ForgottenNeed& need : needs) {
    if (need.article < 0 || need.reminder.amount <= 0) continue;
    add(demand, need.article, need.reminder.amount);
    for (ArticleDemand& line : demand.articles) {
      if (line.article != need.article) continue;
      line.by_rule += need.reminder.amount;
      if (line.why.empty()) line.why = need.reminder.why;
    }
  }
}

void add_tool(Demand& demand, int tool) {
  if (std::find(demand.tools.begin(), demand.tools.end(), tool) == demand.tools.end()) {
    demand.tools.push_back(tool);
  }
}

bool obtainable(const build::Build& build, int wrench) {
  const build::Article& article = build.articles[static_cast<std::size_t>(wrench)];
  return owned(build, wrench) || !article.offers.empty() || article.hire || !article.borrow.empty();
}

/// Is one there already, and not on its way?
bool at_hand(const build::Build& build, int article) {
  const build::Id& id = build.articles[static_cast<std::size_t>(article)].id;
  return std::any_of(build.on_hand.begin(), build.on_hand.end(),
                     [&](const build::OnHand& lot) { return lot.article == id && !lot.arrives; });
}

std::vector<int> covering(const build::Build& build, const std::vector<int>& wrenches,
                          const build::Torque& torque) {
  std::vector<int> found;
  std::copy_if(wrenches.begin(), wrenches.end(), std::back_inserter(found), [&](int wrench) {
    return wrench_covers(build.articles[static_cast<std::size_t>(wrench)], torque);
  });
  return found;
}

/// The one that is taken without choice: the lowest id of those at hand, or the only one. -1: a choice.
int settled(const build::Build& build, const std::vector<int>& wrenches) {
  int own = -1;
  const auto id = [&](int wrench) { return build.articles[static_cast<std::size_t>(wrench)].id; };
  for (const int wrench : wrenches) {
    if (at_hand(build, wrench) && (own < 0 || id(wrench) < id(own))) own = wrench;
  }
  return own < 0 && wrenches.size() == 1 ? wrenches.front() : own;
}

/// What is settled first, so that the order of the torques does not matter.
void add_wrenches(Demand& demand, const build::Build& build, const std::vector<int>& wrenches,
                  const std::vector<build::Torque>& torques) {
  const std::vector<int> listed = demand.tools;
  std::vector<std::vector<int>> choices;
  for (const build::Torque& torque : torques) {
    if (!covering(build, listed, torque).empty()) continue;
    const std::vector<int> found = covering(build, wrenches, torque);
    if (found.empty()) demand.uncovered.push_back(torque);
    if (found.empty()) continue;
    const int wrench = settled(build, found);
    if (wrench >= 0) add_tool(demand, wrench);
    if (wrench < 0) choices.push_back(found);
  }
  for (const auto& any : choices) {
    const bool met = std::any_of(any.begin(), any.end(),
                                 [&](int wrench) { return budgets::contains(demand.tools, wrench); });
    if (!met && !budgets::contains(demand.any_tools, any)) demand.any_tools.push_back(any);
  }
}

/// Tools with a marked torque range that can be had.
std::vector<int> wrenches_of(const build::Build& build) {
  std::vector<int> found;
  for (std::size_t a = 0; a < build.articles.size(); ++a) {
    const build::Article& article = build.articles[a];
    const bool wrench = article.kind == build::ArticleKind::tool && article.range_to.has_value();
    if (wrench && obtainable(build, static_cast<int>(a))) found.push_back(static_cast<int>(a));
  }
  return found;
}

}  // namespace

bool wrench_covers(const build::Article& wrench, const build::Torque& torque) {
  if (!wrench.range_to) return false;
  const fitment::TorqueReading need = fitment::read_torque(torque.value);
  const fitment::TorqueReading highest = fitment::read_torque(*wrench.range_to);
  if (!need.written || !highest.written) return false;
  fitment::WrenchRange range{std::nullopt, highest.written->torque};
  if (wrench.range_from) {
    const fitment::TorqueReading lowest = fitment::read_torque(*wrench.range_from);
    if (!lowest.written || lowest.written->torque > range.highest) return false;
    range.lowest = lowest.written->torque;
  }
  return fitment::covers(range, need.written->torque);
}

bool owned(const build::Build& build, int article) {
  const build::Id& id = build.articles[static_cast<std::size_t>(article)].id;
  return std::any_of(build.on_hand.begin(), build.on_hand.end(),
                     [&](const build::OnHand& lot) { return lot.article == id; });
}

Demands demands_of(const build::Build& build) {
  const IdTable articles(build.articles);
  const std::vector<int> wrenches = wrenches_of(build);
  Demands demands;
  const auto tools = [&](Demand& demand, const std::vector<build::Id>& listed, const auto& torques) {
    for (const int tool : articles.find_all(listed)) add_tool(demand, tool);
    add_wrenches(demand, build, wrenches, torques);
  };
  for (std::size_t j = 0; j < build.jobs.size(); ++j) {
    Demand& demand = demands.jobs.emplace_back();
    add_listed(demand, uses_of(build, build.jobs[j]), articles);
    add_forgotten(demand, goods::forgotten_of_job(build, static_cast<int>(j)));
    tools(demand, build.jobs[j].tools, build.jobs[j].torques);
  }
  for (std::size_t r = 0; r < build.removals.size(); ++r) {
    Demand& demand = demands.removals.emplace_back();
    add_listed(demand, build.removals[r].one_use, articles);
    add_forgotten(demand, goods::forgotten_of_removal(build, static_cast<int>(r)));
    tools(demand, build.removals[r].tools, build.removals[r].torques);
  }
  return demands;
}

}  // namespace fettlefund::planning
