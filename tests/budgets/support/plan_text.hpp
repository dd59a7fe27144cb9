#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include "budgets/solve.hpp"

namespace fettlefund::testing {

/// What jobs, removals, suppliers, articles and tools of a problem are called; empty: by their indices.
struct Names {
  std::vector<std::string> jobs, removals, suppliers, articles, tools;
};

namespace text_parts {

inline std::string name(const std::vector<std::string>& names, int index) {
  return names.empty() ? std::to_string(index) : names[index];
}

inline std::string joined(std::vector<std::string> parts) {
  std::sort(parts.begin(), parts.end());
  std::string text;
  for (const std::string& part : parts) text += part + " ";
  return text;
}

inline std::string list_of(const std::vector<int>& indices, const std::vector<std::string>& names) {
  std::vector<std::string> parts;
  for (const int i : indices) parts.push_back(name(names, i));
  return joined(std::move(parts));
}

inline std::string amount(budgets::Money money) { return std::to_string(money.minor()); }

inline std::string stage_text(const budgets::StageCost& stage, const Names& names) {
  std::string text = "jobs " + list_of(stage.jobs, names.jobs) + "off " +
                     list_of(stage.opened, names.removals) + "hired " + list_of(stage.hired, names.tools);
  for (const budgets::Money money :
       {stage.goods, stage.delivery, stage.hire, stage.fees, stage.allowance, stage.spent, stage.cash_after})
    text += amount(money) + " ";
  return text + std::to_string(stage.job_minutes) + " " + std::to_string(stage.removal_minutes) + "\n";
}

inline std::string line_text(const budgets::ProblemData& data, const budgets::OrderLine& line,
                             const Names& names) {
  const bool tool = line.tool >= 0;
  const budgets::Offer& offer =
      tool ? data.tools[line.tool].offers[line.offer] : data.articles[line.article].offers[line.offer];
  return std::to_string(line.packs) + "x" +
         (tool ? "tool " + name(names.tools, line.tool) : "article " + name(names.articles, line.article)) +
         "@" + std::to_string(line.for_stage) + " at " + amount(offer.price) + " in " +
         std::to_string(offer.lead_days) + " days = " + amount(line.amount) + ";";
}

inline std::string order_text(const budgets::ProblemData& data, const budgets::Order& order,
                              const Names& names) {
  std::vector<std::string> lines;
  for (const budgets::OrderLine& line : order.lines) lines.push_back(line_text(data, line, names));
  return "order " + std::to_string(order.stage) + " from " + name(names.suppliers, order.supplier) + ": " +
         joined(std::move(lines)) + amount(order.goods) + " + " + amount(order.delivery) + "\n";
}

}  // namespace text_parts

/// All decisions and figures of a plan but the indices of its offers, told by names: the stage of each job,
/// every purchase, tool, hire and amount. Lists in the order of the names.
inline std::string plan_text(const budgets::ProblemData& data, const budgets::Plan& plan,
                             const Names& names) {
  std::string text = "value " + std::to_string(plan.value) + ", spent " + text_parts::amount(plan.spent) +
                     ", minutes " + std::to_string(plan.minutes) + "\n";
  for (const budgets::StageCost& stage : plan.stages) text += text_parts::stage_text(stage, names);
  std::vector<std::string> orders, tools;
  for (const budgets::Order& order : plan.orders)
    orders.push_back(text_parts::order_text(data, order, names));
  for (std::size_t k = 0; k < plan.schedule.tool_bought.size(); ++k)
    tools.push_back(text_parts::name(names.tools, static_cast<int>(k)) + "@" +
                    std::to_string(plan.schedule.tool_bought[k]));
  return text + text_parts::joined(std::move(orders)) + text_parts::joined(std::move(tools));
}

/// A result likewise: its plan, or the musts that cannot be met; bound and steps.
inline std::string result_text(const budgets::ProblemData& data, const budgets::Result& result,
                               const Names& names) {
  if (const auto* impossible = std::get_if<budgets::Impossible>(&result)) {
    return "impossible: " + text_parts::list_of(impossible->musts, names.jobs) +
           (impossible->short_by ? text_parts::amount(*impossible->short_by) : "") + " stage " +
           std::to_string(impossible->stage) + " steps " + std::to_string(impossible->work.steps);
  }
  const budgets::Plan* plan = budgets::plan_of(result);
  const std::string text = plan != nullptr ? plan_text(data, *plan, names) : "no plan";
  if (const auto* proven = std::get_if<budgets::Proven>(&result))
    return text + "proven, steps " + std::to_string(proven->work.steps);
  const auto& stopped = std::get<budgets::Stopped>(result);
  return text + "bound " + std::to_string(stopped.bound) + ", steps " + std::to_string(stopped.work.steps);
}

}  // namespace fettlefund::testing
