#include <algorithm>
#include <map>

#include "budgets/problem/tools.hpp"
#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"

namespace fettlefund::planning {
namespace {

/// No id of a build: those have letters, digits and hyphens only.
constexpr const char* second_person = "(second person)";

bool uses(const std::vector<int>& tools, int k) {
  return std::find(tools.begin(), tools.end(), k) != tools.end();
}

/// The name, with the sizes that it does not tell itself.
std::string with_sizes(const build::Article& tool) {
  std::vector<std::string> untold;
  for (const std::string& size : tool.sizes) {
    if (tool.name.find(size) == std::string::npos) untold.push_back(size);
  }
  return untold.empty() ? tool.name : tool.name + " (" + list_text(untold) + ")";
}

std::string in_stages(const std::string& verb, const std::vector<std::string>& stages) {
  return verb + (stages.size() == 1 ? " in stage " : " in stages ") + list_text(stages);
}

/// The tool of the set that serves in the stage; -1: none.
int serving(const View& view, const std::vector<int>& set, int stage) {
  const budgets::StageCost& cost = view.cost(stage);
  const budgets::ToolNeeds needs = budgets::tool_needs(view.problem.data(), cost.jobs, cost.opened);
  const auto& bought = view.plan.schedule.tool_bought;
  const auto first = [&](const auto& serves) {
    const auto found = std::find_if(set.begin(), set.end(), serves);
    return found == set.end() ? -1 : *found;
  };
  int tool = first([&](int k) { return uses(needs.tools, k); });
  if (tool < 0)
    tool = first([&](int k) {
      const int at = bought[static_cast<std::size_t>(k)];
      return at >= 0 && at <= stage;
    });
  if (tool < 0)
    tool = first([&](int k) {
      return budgets::is_free(view.problem.data().tools[static_cast<std::size_t>(k)], stage);
    });
  return tool < 0 ? first([&](int k) { return uses(cost.hired, k); }) : tool;
}

template <class Work>
std::vector<int> tools_for(const View& view, const Work& work, int stage) {
  std::vector<int> tools = work.tools;
  for (std::vector<int> set : work.any_tools) {
    std::sort(set.begin(), set.end());
    if (const int tool = serving(view, set, stage); tool >= 0) tools.push_back(tool);
  }
  std::sort(tools.begin(), tools.end());
  tools.erase(std::unique(tools.begin(), tools.end()), tools.end());
  return tools;
}

/// One tool's story over the stages that use it.
class ToolStory {
 public:
  ToolStory(const View& view, int k)
      : view_(view),
        k_(k),
        tool_(view.problem.data().tools[static_cast<std::size_t>(k)]),
        bought_(view.plan.schedule.tool_bought[static_cast<std::size_t>(k)]) {}

  std::optional<ToolView> tell() {
    for (int t = 0; t < view_.problem.stage_count(); ++t) look_at(t);
    if (to_.first_stage < 0) return std::nullopt;
    const int index = view_.staging.tool_of[static_cast<std::size_t>(k_)];
    to_.id = view_.tool(k_).id;
    to_.name = with_sizes(view_.tool(k_));
    to_.how = owned(view_.build, index) ? "owned" : how();
    to_.amount += paid();
    return to_;
  }

 private:
  void look_at(int t) {
    const budgets::StageCost& stage = view_.cost(t);
    bool used = false;
    const auto look = [&](const std::string& name, const std::vector<int>& tools) {
      if (!uses(tools, k_)) return;
      used = true;
      if (std::find(to_.used_for.begin(), to_.used_for.end(), name) == to_.used_for.end()) {
        to_.used_for.push_back(name);
      }
    };
    for (const int j : stage.jobs) look(view_.job(j).name, tools_of_job(view_, j, t));
    for (const int r : stage.opened) look(view_.removal(r).name, tools_of_removal(view_, r, t));
    if (!used) return;
    if (to_.first_stage < 0) to_.first_stage = view_.place_of(t);
    if (uses(stage.hired, k_)) {
      hired_.push_back(number_of(t));
      to_.amount += tool_.hire.value_or(Money());
    } else if (bought_ < 0 || t < bought_) {
      borrowed_.push_back(number_of(t));
    }
  }

  std::string number_of(int t) const { return std::to_string(view_.place_of(t) + 1); }

  std::string how() const {
    std::vector<std::string> parts;
    if (!borrowed_.empty()) parts.push_back(in_stages("borrowed", borrowed_));
    if (!hired_.empty()) parts.push_back(in_stages("hired", hired_));
    if (bought_ >= 0) parts.push_back(in_stages("bought", {number_of(bought_)}));
    return list_text(parts);
  }

  Money paid() const {
    for (const budgets::Order& order : view_.plan.orders) {
      for (const budgets::OrderLine& line : order.lines) {
        if (line.tool == k_) return line.amount;
      }
    }
    return {};
  }

  const View& view_;
  int k_;
  const budgets::Tool& tool_;
  int bought_;
  ToolView to_;
  std::vector<std::string> borrowed_, hired_;
};

bool any_helper(const std::vector<build::Step>& steps) {
  return std::any_of(steps.begin(), steps.end(), [](const build::Step& step) { return step.helper; });
}

/// The second person who holds or lifts, and when; nothing where none is asked for.
std::optional<ToolView> helper_of(const View& view) {
  ToolView to{second_person, "a second person", {}, -1, {}, {}};
  std::vector<std::string> stages;
  for (int t = 0; t < view.problem.stage_count(); ++t) {
    std::vector<std::string> users;
    for (const int j : view.cost(t).jobs) {
      const build::Job& job = view.job(j);
      if (job.helper || any_helper(job.steps)) users.push_back(job.name);
    }
    for (const int r : view.cost(t).opened) {
      const build::Removal& removal = view.removal(r);
      if (removal.helper || any_helper(removal.off) || any_helper(removal.on)) users.push_back(removal.name);
    }
    if (users.empty()) continue;
    stages.push_back(std::to_string(view.place_of(t) + 1));
    if (to.first_stage < 0) to.first_stage = view.place_of(t);
    for (const std::string& user : users) {
      const bool known = std::find(to.used_for.begin(), to.used_for.end(), user) != to.used_for.end();
      if (!known) to.used_for.push_back(user);
    }
  }
  if (stages.empty()) return std::nullopt;
  to.how = in_stages("needed", stages);
  return to;
}

/// How a tool that a stage uses is come by then.
std::string how_in(const View& view, int k, int stage) {
  const auto index = static_cast<std::size_t>(k);
  if (owned(view.build, view.staging.tool_of[index])) return "owned";
  if (uses(view.cost(stage).hired, k)) return "hired";
  const int bought = view.plan.schedule.tool_bought[index];
  if (bought < 0 || bought > stage) return "borrowed";
  return bought == stage ? "bought for this stage"
                         : "bought for stage " + std::to_string(view.place_of(bought) + 1);
}

bool used_in(const View& view, int k, int stage) {
  const auto job_uses = [&](int j) { return uses(tools_of_job(view, j, stage), k); };
  const auto removal_uses = [&](int r) { return uses(tools_of_removal(view, r, stage), k); };
  const budgets::StageCost& cost = view.cost(stage);
  return std::any_of(cost.jobs.begin(), cost.jobs.end(), job_uses) ||
         std::any_of(cost.opened.begin(), cost.opened.end(), removal_uses);
}

bool needs_helper(const View& view, int stage) {
  const budgets::StageCost& cost = view.cost(stage);
  return std::any_of(cost.jobs.begin(), cost.jobs.end(),
                     [&](int j) { return view.job(j).helper || any_helper(view.job(j).steps); }) ||
         std::any_of(cost.opened.begin(), cost.opened.end(), [&](int r) {
           const build::Removal& removal = view.removal(r);
           return removal.helper || any_helper(removal.off) || any_helper(removal.on);
         });
}

void add_stage_uncovered(std::vector<StageTool>& tools, const Demand& demand) {
  for (const build::Torque& torque : demand.uncovered) {
    const std::string name = "torque wrench for " + torque.value;
    const bool known = std::any_of(tools.begin(), tools.end(), [&](const StageTool& tool) {
      return tool.id.empty() && tool.name == name;
    });
    if (!known) tools.push_back({"", name, "not covered"});
  }
}

void add_uncovered(std::vector<ToolView>& tools, const std::string& user, int stage, const Demand& demand) {
  for (const build::Torque& torque : demand.uncovered) {
    const std::string name = "torque wrench for " + torque.value;
    const auto known = std::find_if(tools.begin(), tools.end(), [&](const ToolView& tool) {
      return tool.id.empty() && tool.name == name;
    });
    if (known == tools.end()) {
      tools.push_back({"", name, "not covered", stage, {}, {user}});
    } else if (std::find(known->used_for.begin(), known->used_for.end(), user) == known->used_for.end()) {
      known->used_for.push_back(user);
    }
  }
}

}  // namespace

std::vector<int> tools_of_job(const View& view, int job, int stage) {
  return tools_for(view, view.problem.data().jobs[static_cast<std::size_t>(job)], stage);
}

std::vector<int> tools_of_removal(const View& view, int removal, int stage) {
  return tools_for(view, view.problem.data().removals[static_cast<std::size_t>(removal)], stage);
}

std::vector<StageTool> stage_tools(const View& view, int stage) {
  std::vector<StageTool> tools;
  for (const int k : in_file_order(view.staging.tool_of)) {
    if (!used_in(view, k, stage)) continue;
    tools.push_back({view.tool(k).id, with_sizes(view.tool(k)), how_in(view, k, stage)});
  }
  if (needs_helper(view, stage)) tools.push_back({second_person, "a second person", "needed"});
  for (const int j : view.cost(stage).jobs) {
    add_stage_uncovered(tools, view.staging.demands.jobs[static_cast<std::size_t>(j)]);
  }
  for (const int r : view.cost(stage).opened) {
    add_stage_uncovered(tools, view.staging.demands.removals[static_cast<std::size_t>(r)]);
  }
  return tools;
}

std::vector<ToolView> tools_of(const View& view) {
  std::vector<ToolView> tools;
  for (const int k : in_file_order(view.staging.tool_of)) {
    if (auto told = ToolStory(view, k).tell()) tools.push_back(std::move(*told));
  }
  if (auto helper = helper_of(view)) tools.push_back(std::move(*helper));
  for (int t = 0; t < view.problem.stage_count(); ++t) {
    for (const int j : view.cost(t).jobs) {
      add_uncovered(tools, view.job(j).name, view.place_of(t),
                    view.staging.demands.jobs[static_cast<std::size_t>(j)]);
    }
    for (const int r : view.cost(t).opened) {
      add_uncovered(tools, view.removal(r).name, view.place_of(t),
                    view.staging.demands.removals[static_cast<std::size_t>(r)]);
    }
  }
  return tools;
}

}  // namespace fettlefund::planning
