#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets {
namespace verifier {
namespace {

template <class List>
int size_of(const List& list) {
  return static_cast<int>(list.size());
}

bool within(int index, int size) { return index >= 0 && index < size; }

void check_decisions(const ProblemData& data, const Schedule& schedule, Findings& findings) {
  const int stages = size_of(data.stages);
  if (schedule.stage_of.size() != data.jobs.size())
    found(findings, Rule::window, -1, -1, "the schedule has ", schedule.stage_of.size(),
          " jobs, the problem ", data.jobs.size());
  if (schedule.tool_bought.size() != data.tools.size())
    found(findings, Rule::window, -1, -1, "the schedule has ", schedule.tool_bought.size(),
          " tools, the problem ", data.tools.size());
  for (int j = 0; j < size_of(schedule.stage_of); ++j)
    if (const int s = schedule.stage_of[j]; s != -1 && !within(s, stages))
      found(findings, Rule::window, s, j, "job ", j, " is in stage ", s, ", which does not exist");
  for (int t = 0; t < size_of(schedule.tool_bought); ++t)
    if (const int s = schedule.tool_bought[t]; s != -1 && !within(s, stages))
      found(findings, Rule::window, s, t, "tool ", t, " is bought for stage ", s, ", which does not exist");
}

bool line_exists(const ProblemData& data, const OrderLine& line) {
  if ((line.article >= 0) == (line.tool >= 0) || !within(line.for_stage, size_of(data.stages))) return false;
  if (line.tool >= 0)
    return line.tool < size_of(data.tools) && within(line.offer, size_of(data.tools[line.tool].offers));
  return line.article < size_of(data.articles) &&
         within(line.offer, size_of(data.articles[line.article].offers));
}

void check_order_indices(const ProblemData& data, const Plan& plan, Findings& findings) {
  for (int o = 0; o < size_of(plan.orders); ++o) {
    const Order& order = plan.orders[o];
    if (!within(order.stage, size_of(data.stages)) || !within(order.supplier, size_of(data.suppliers)))
      found(findings, Rule::window, order.stage, o, "order ", o, " names payday ", order.stage,
            " and supplier ", order.supplier, ", not both of which exist");
    for (int l = 0; l < size_of(order.lines); ++l)
      if (!line_exists(data, order.lines[l]))
        found(findings, Rule::window, order.stage, o, "line ", l, " of order ", o,
              " names an article, tool, offer or stage that does not exist");
  }
}

}  // namespace

void check_shape(const ProblemData& data, const Plan& plan, Findings& findings) {
  check_decisions(data, plan.schedule, findings);
  check_order_indices(data, plan, findings);
  if (plan.stages.size() != data.stages.size())
    found(findings, Rule::accounts, -1, -1, "the plan has ", plan.stages.size(), " stages, the problem ",
          data.stages.size());
}

}  // namespace verifier

std::vector<Violation> verify(const Problem& problem, const Plan& plan) {
  using namespace verifier;
  Findings findings;
  check_shape(problem.data(), plan, findings);
  if (!findings.empty()) return findings;
  const Subject subject{problem.data(), plan, facts_of(problem.data(), plan.schedule)};
  check_schedule(subject, findings);
  check_fit(subject, findings);
  check_tools(subject, findings);
  try {
    if (check_lines(subject, findings)) check_baskets(subject, findings);
    check_orders(subject, findings);
    check_stages(subject, findings);
    check_totals(subject, findings);
  } catch (const MoneyOverflow&) {
    found(findings, Rule::accounts, -1, -1, "the orders come to more than an amount of money can hold");
  }
  return findings;
}

}  // namespace fettlefund::budgets
