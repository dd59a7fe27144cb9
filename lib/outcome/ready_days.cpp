#include "lib/outcome/ready_days.hpp"

#include <algorithm>
#include <map>

#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

class Ready {
 public:
  Ready(const View& view, int stage)
      : view_(view), stage_(stage), payday_(view.stage(stage).payday), bench_(view.stage(stage).bench) {
    for (const budgets::Order& order : view.plan.orders) {
      for (const budgets::OrderLine& line : order.lines) {
        if (line.for_stage == stage) note(order.stage, line);
      }
    }
  }

  Date of(const WorkStep& step) const {
    const int index =
        step.of_job ? find_id(view_.build.jobs, step.of) : find_id(view_.build.removals, step.of);
    const auto at = static_cast<std::size_t>(index);
    const Demands& demands = view_.staging.demands;
    Date day = goods(step.of_job ? demands.jobs[at] : demands.removals[at]);
    for (const int tool :
         step.of_job ? tools_of_job(view_, index, stage_) : tools_of_removal(view_, index, stage_))
      day = std::max(day, tool_day(tool));
    const auto& not_before = step.of_job ? view_.job(index).not_before : std::nullopt;
    return std::min(bench_, std::max(day, not_before.value_or(day)));
  }

 private:
  void note(int payday, const budgets::OrderLine& line) {
    const budgets::ProblemData& data = view_.problem.data();
    const bool tool = line.tool >= 0;
    const auto at = static_cast<std::size_t>(tool ? line.tool : line.article);
    const auto& offers = tool ? data.tools[at].offers : data.articles[at].offers;
    const int article = tool ? view_.staging.tool_of[at] : view_.staging.article_of[at];
    const Date there = view_.stage(payday).payday + offers[static_cast<std::size_t>(line.offer)].lead_days;
    Date& last = bought_.emplace(article, there).first->second;
    last = std::max(last, there);
  }

  /// When all of the stock that comes by the bench date is there.
  Date stock_day(const build::Article& article) const {
    Date day = payday_;
    for (const build::OnHand& lot : view_.build.on_hand) {
      if (lot.article == article.id && lot.arrives && *lot.arrives <= bench_)
        day = std::max(day, *lot.arrives);
    }
    return day;
  }

  Date goods(const Demand& demand) const {
    Date day = payday_;
    for (const ArticleDemand& line : demand.articles) {
      const build::Article& article = view_.build.articles[static_cast<std::size_t>(line.article)];
      if (article.keeps_days) return bench_;
      const auto bought = bought_.find(line.article);
      day = std::max({day, stock_day(article), bought == bought_.end() ? day : bought->second});
    }
    return day;
  }

  Date tool_day(int tool) const {
    const int article = view_.staging.tool_of[static_cast<std::size_t>(tool)];
    const int stage = view_.plan.schedule.tool_bought[static_cast<std::size_t>(tool)];
    if (stage >= 0 && stage < stage_) return payday_;
    if (stage == stage_) return bought_.at(article);
    return owned(view_.build, article) ? stock_day(view_.tool(tool)) : bench_;
  }

  const View& view_;
  int stage_;
  Date payday_, bench_;
  std::map<int, Date>
      bought_;  ///< article of the build -> when all that is bought of it for the stage is there
};

}  // namespace

std::vector<Date> ready_days(const View& view, int stage, const std::vector<WorkStep>& work,
                             const BenchTime& time) {
  if (time.evenings.empty() || time.evenings.front().date >= time.first) return {};
  const Ready ready(view, stage);
  std::vector<Date> days;
  for (const WorkStep& step : work) days.push_back(ready.of(step));
  return days;
}

}  // namespace fettlefund::planning
