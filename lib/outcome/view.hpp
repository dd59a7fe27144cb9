#pragma once
#include <vector>

#include "budgets/problem/plan.hpp"
#include "lib/outcome/outcome.hpp"
#include "lib/outcome/plan.hpp"

/// The parts that turn a plan of indices into the builder's words.
namespace fettlefund::planning {

/// What every part looks at. All of it outlives the call.
struct View {
  const build::Build& build;
  const Staging& staging;
  const budgets::Problem& problem;
  const budgets::Plan& plan;

  const budgets::StageCost& cost(int stage) const { return plan.stages[static_cast<std::size_t>(stage)]; }
  const budgets::Stage& stage(int stage) const {
    return problem.data().stages[static_cast<std::size_t>(stage)];
  }
  const build::Job& job(int j) const { return build.jobs[static_cast<std::size_t>(j)]; }
  const build::Removal& removal(int r) const { return build.removals[static_cast<std::size_t>(r)]; }
  /// The stage's place in the whole build, from 0; as people count it, 1 more.
  int place_of(int stage) const { return build.money.stages_over + stage; }
  /// The article behind an article (or tool) of the problem.
  const build::Article& article(int a) const { return named(staging.article_of, a); }
  const build::Article& tool(int k) const { return named(staging.tool_of, k); }
  int stage_of(int j) const { return plan.schedule.stage_of[static_cast<std::size_t>(j)]; }

 private:
  const build::Article& named(const std::vector<int>& table, int index) const {
    return build.articles[static_cast<std::size_t>(table[static_cast<std::size_t>(index)])];
  }
};

/// One stage: money, jobs, removals, hires, fees, reminders, work, cautions; orders and the like included.
StageView stage_view(const View& view, int stage);

/// The orders paid on a stage's payday.
std::vector<OrderView> orders_of(const View& view, int stage);

/// Everything in a stage that the rules remind of.
/// One line an article: what several need is added up and keeps the key of the first.
std::vector<Reminder> reminders_of(const View& view, int stage);

/// Fitted parts that lie open in a stage (or are renewed in it) and whose life ends before the plan does.
std::vector<DuePart> due_parts(const View& view, int stage);

/// Why some jobs of a stage share it: a mate that changes for all at once, or `with`.
std::vector<std::string> groups_of(const View& view, int stage);

/// The tools that a job (a removal) of the stage uses, as the problem counts them, ascending: of wrenches of
/// which any will do one that is used there anyway, else one that has been bought, is free or is hired.
std::vector<int> tools_of_job(const View& view, int job, int stage);
std::vector<int> tools_of_removal(const View& view, int removal, int stage);

/// Tools that the plan uses, in file order, then torques that no wrench covers.
std::vector<ToolView> tools_of(const View& view);

/// The tools of one stage, and how they are come by.
std::vector<StageTool> stage_tools(const View& view, int stage);

/// What each stage uses and what is left over of it after the stage's bench date. Of lots the one that ends
/// first is used first; what is left of an opened pack keeps as long as the article does.
std::vector<std::vector<UsedLine>> used_in_stages(const View& view);

/// Jobs not in the plan, in file order, each with a reason that was checked.
std::vector<LeftOut> left_out_of(const View& view, bool proven);

/// The whole outcome. `bound` is the solver's, in worth.
Outcome outcome_of(const View& view, bool proven, std::int64_t bound, const budgets::Work& work);

/// Names of jobs, in the order given.
std::vector<std::string> names_of(const build::Build& build, const std::vector<int>& jobs);

}  // namespace fettlefund::planning
