#include <tuple>

#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets::verifier {
namespace {

/// Compares a recorded amount with the one worked out; `where` and `what` name it.
template <class Amount>
void check_figure(Findings& findings, int stage, int index, std::string_view where, std::string_view what,
                  Amount recorded, Amount expected) {
  if (recorded != expected)
    found(findings, Rule::accounts, stage, index, where, " records ", what, " of ", recorded, ", it is ",
          expected);
}

Money amount_of(const ProblemData& data, const OrderLine& line) {
  const bool is_tool = line.tool >= 0;
  return offer_of(data, is_tool, is_tool ? line.tool : line.article, line.offer).price * line.packs;
}

Money goods_of(const ProblemData& data, const Order& order) {
  Money goods;
  for (const OrderLine& line : order.lines) goods += amount_of(data, line);
  return goods;
}

Money delivery_of(const ProblemData& data, const Order& order) {
  return delivery_for(data.suppliers[order.supplier], goods_of(data, order));
}

std::tuple<int, bool, int> place(const OrderLine& line) {
  const bool is_tool = line.tool >= 0;
  return {line.for_stage, is_tool, is_tool ? line.tool : line.article};
}

void check_order(const ProblemData& data, const Order& order, int o, Findings& findings) {
  const std::string where = Words::of("order ", o);
  if (order.lines.empty()) found(findings, Rule::accounts, order.stage, o, where, " has no lines");
  for (std::size_t l = 0; l < order.lines.size(); ++l) {
    const OrderLine& line = order.lines[l];
    check_figure(findings, order.stage, o, Words::of("line ", l, " of ", where), "an amount", line.amount,
                 amount_of(data, line));
    if (l > 0 && !(place(order.lines[l - 1]) < place(line)))
      found(findings, Rule::accounts, order.stage, o, "line ", l, " of ", where, " is out of order");
  }
  check_figure(findings, order.stage, o, where, "goods", order.goods, goods_of(data, order));
  check_figure(findings, order.stage, o, where, "delivery", order.delivery, delivery_of(data, order));
}

/// What one stage's recorded figures must be, without allowance and cash.
StageCost worked_out(const Subject& subject, int s) {
  const StageFacts& facts = subject.stages[s];
  StageCost stage;
  for (const Order& order : subject.plan.orders) {
    if (order.stage != s) continue;
    stage.goods += goods_of(subject.data, order);
    stage.delivery += delivery_of(subject.data, order);
  }
  for (const int t : facts.hired) stage.hire += subject.data.tools[t].hire.value_or(Money());
  for (const int j : facts.jobs) {
    stage.fees += subject.data.jobs[j].cost;
    stage.job_minutes += subject.data.jobs[j].minutes;
  }
  for (const int r : facts.opened) {
    stage.fees += subject.data.removals[r].cost;
    stage.removal_minutes += subject.data.removals[r].minutes;
  }
  return stage;
}

/// All stages, with allowance, spending and cash.
std::vector<StageCost> all_worked_out(const Subject& subject) {
  std::vector<StageCost> stages;
  Money cash = subject.data.opening;
  for (int s = 0; s < static_cast<int>(subject.stages.size()); ++s) {
    StageCost stage = worked_out(subject, s);
    const Money bare = stage.goods + stage.delivery + stage.hire + stage.fees;
    stage.allowance = percentage_rounded_up(bare, subject.data.allowance_bp);
    stage.spent = bare + stage.allowance;
    cash = cash + subject.data.stages[s].cash_in - stage.spent;
    stage.cash_after = cash;
    stages.push_back(stage);
  }
  return stages;
}

void check_lists(const StageFacts& facts, const StageCost& recorded, int s, Findings& findings) {
  const auto check = [&](const std::vector<int>& list, const std::vector<int>& expected,
                         std::string_view what) {
    if (list != expected)
      found(findings, Rule::accounts, s, -1, "stage ", s, " records other ", what,
            " than the decisions make");
  };
  check(recorded.jobs, facts.jobs, "jobs");
  check(recorded.opened, facts.opened, "removals");
  check(recorded.hired, facts.hired, "hired tools");
}

void check_amounts(const StageCost& recorded, const StageCost& expected, int s, Findings& findings) {
  const std::string where = Words::of("stage ", s);
  const auto check = [&](std::string_view what, auto figure) {
    check_figure(findings, s, -1, where, what, recorded.*figure, expected.*figure);
  };
  check("goods", &StageCost::goods);
  check("delivery", &StageCost::delivery);
  check("hire", &StageCost::hire);
  check("fees", &StageCost::fees);
  check("allowance", &StageCost::allowance);
  check("spending", &StageCost::spent);
  check("cash", &StageCost::cash_after);
  check("job minutes", &StageCost::job_minutes);
  check("removal minutes", &StageCost::removal_minutes);
}

void check_cash(const Subject& subject, const StageCost& expected, int s, Findings& findings) {
  const Money floor = subject.data.stages[s].floor;
  if (expected.cash_after >= floor) return;
  found(findings, Rule::cash, s, -1, "stage ", s, " leaves ", expected.cash_after,
        " in minor units, the floor is ", floor);
  findings.back().amount = floor - expected.cash_after;
}

}  // namespace

void check_orders(const Subject& subject, Findings& findings) {
  const std::vector<Order>& orders = subject.plan.orders;
  for (int o = 0; o < static_cast<int>(orders.size()); ++o) {
    check_order(subject.data, orders[o], o, findings);
    if (o == 0) continue;
    const OrderKey before{orders[o - 1].stage, orders[o - 1].supplier},
        here{orders[o].stage, orders[o].supplier};
    if (before == here)
      found(findings, Rule::accounts, orders[o].stage, o, "order ", o, " is a second one from supplier ",
            orders[o].supplier, " on payday ", orders[o].stage);
    else if (here < before)
      found(findings, Rule::accounts, orders[o].stage, o, "order ", o, " is out of order");
  }
}

void check_stages(const Subject& subject, Findings& findings) {
  const std::vector<StageCost> expected = all_worked_out(subject);
  for (int s = 0; s < static_cast<int>(expected.size()); ++s) {
    check_lists(subject.stages[s], subject.plan.stages[s], s, findings);
    check_amounts(subject.plan.stages[s], expected[s], s, findings);
    check_cash(subject, expected[s], s, findings);
  }
}

/// What a renewal adds: the most that jobs of it earn in the first stage which does any.
std::int64_t renewed(const Subject& subject, const Renewal& renewal) {
  for (int s = 0; s < static_cast<int>(subject.stages.size()); ++s) {
    std::optional<std::int64_t> most;
    for (std::size_t i = 0; i < renewal.jobs.size(); ++i)
      if (subject.plan.schedule.stage_of[renewal.jobs[i]] == s)
        most = std::max(most.value_or(0), renewal.worth[i][s]);
    if (most) return *most;
  }
  return 0;
}

void check_totals(const Subject& subject, Findings& findings) {
  Money spent;
  std::int64_t minutes = 0, removal_minutes = 0, worth = 0;
  for (const StageCost& stage : all_worked_out(subject)) {
    spent += stage.spent;
    minutes += stage.job_minutes + stage.removal_minutes;
    removal_minutes += stage.removal_minutes;
  }
  for (int s = 0; s < static_cast<int>(subject.stages.size()); ++s)
    for (const int j : subject.stages[s].jobs) worth += subject.data.jobs[j].worth[s];
  for (const Renewal& renewal : subject.data.renewals) worth += renewed(subject, renewal);
  check_figure(findings, -1, -1, "the plan", "a value", subject.plan.value,
               worth - subject.data.bother * removal_minutes);
  check_figure(findings, -1, -1, "the plan", "spending", subject.plan.spent, spent);
  check_figure(findings, -1, -1, "the plan", "minutes", subject.plan.minutes, minutes);
}

}  // namespace fettlefund::budgets::verifier
