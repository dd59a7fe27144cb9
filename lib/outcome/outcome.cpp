#include <algorithm>

#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"
#include "lib/progress/moves.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

std::vector<Caution> cautions_of(const build::Build& build) {
  std::vector<Caution> cautions = graph::general_cautions();
  for (const std::string& own : build.cautions) cautions.push_back({own, "the build file"});
  return cautions;
}

std::vector<std::string> warnings_of(const View& view, const std::vector<ToolView>& tools) {
  std::vector<std::string> warnings;
  for (const ToolView& tool : tools) {
    if (!tool.id.empty()) continue;
    std::string users;
    for (const std::string& user : tool.used_for) users += (users.empty() ? "" : ", ") + user;
    warnings.push_back("No tool of the build covers this: " + tool.name + " (" + users + ").");
  }
  for (const build::Extra& extra : view.build.money.extras) {
    if (extra.date < view.staging.calendar.end) continue;
    warnings.push_back("Not counted, because the plan ends before " + budgets::write_date(extra.date) + ": " +
                       extra.what + ".");
  }
  return warnings;
}

/// Removals that a stage counts besides what stands for them because they come off for good there.
std::vector<std::string> counted_twice(const View& view) {
  std::vector<std::string> notes;
  const IdTable removals(view.build.removals);
  for (int t = 0; t < view.problem.stage_count(); ++t) {
    const std::vector<int>& opened = view.cost(t).opened;
    for (const int r : opened) {
      const int other = removals.find(view.removal(r).stands_for);
      if (other < 0 || std::find(opened.begin(), opened.end(), other) == opened.end()) continue;
      const build::Removal& removal = view.removal(other);
      notes.push_back("Stage " + std::to_string(view.place_of(t) + 1) + " counts " +
                      hours_text(removal.minutes_off + removal.minutes_on) + " and what it spoils for " +
                      removal.name +
                      " once more than the work needs: jobs before and after it comes off for "
                      "good meet there.");
    }
  }
  return notes;
}

int agreed_kept(const View& view) {
  const IdTable jobs(view.build.jobs);
  int kept = 0;
  for (const build::Agreed& agreed : view.build.agreement.jobs) {
    const int job = jobs.find(agreed.job), stage = stage_on(view.staging, agreed.bench);
    if (job >= 0 && stage >= 0 && view.stage_of(job) == stage) ++kept;
  }
  return kept;
}

/// Worth to want-days, rounded up.
}  // namespace

std::string move_text(const Move& move) {
  std::string text = move.name + ": from bench " + budgets::write_date(move.agreed_bench) + " ";
  text += move.stage < 0 ? "left out" : "to " + stage_text(move.stage, move.bench);
  for (std::size_t i = 0; i < move.reasons.size(); ++i) text += (i == 0 ? ": " : "; ") + move.reasons[i];
  return text + ".";
}

Outcome outcome_of(const View& view, bool proven, std::int64_t bound, const budgets::Work& work) {
  Outcome outcome;
  outcome.build = &view.build;
  outcome.proof = proven ? Proof::proven : Proof::stopped;
  outcome.agreed_kept = agreed_kept(view);
  const std::int64_t keeping = outcome.agreed_kept * keep_worth(view.build.agreement);
  outcome.value_want_days = (view.plan.value - keeping) / worth_per_want_day;
  outcome.bound_want_days = proven ? outcome.value_want_days : want_days_at_most(bound - keeping);
  outcome.work = work;
  outcome.end = view.staging.calendar.end;
  for (int t = 0; t < view.problem.stage_count(); ++t) outcome.stages.push_back(stage_view(view, t));
  std::vector<std::vector<UsedLine>> used = used_in_stages(view);
  for (std::size_t t = 0; t < used.size(); ++t) outcome.stages[t].used = std::move(used[t]);
  outcome.left_out = left_out_of(view, proven);
  outcome.moves = moves_of(view, outcome.left_out);
  outcome.tools = tools_of(view);
  outcome.warnings = warnings_of(view, outcome.tools);
  outcome.cautions = cautions_of(view.build);
  outcome.assumptions = view.staging.notes;
  for (std::string& note : counted_twice(view)) outcome.assumptions.push_back(std::move(note));
  outcome.spent = view.plan.spent;
  outcome.left = view.plan.stages.empty() ? view.build.money.opening : view.plan.stages.back().cash_after;
  return outcome;
}

}  // namespace fettlefund::planning
