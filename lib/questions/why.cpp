#include "lib/questions/why.hpp"

#include <algorithm>
#include <stdexcept>

#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/conflict.hpp"
#include "lib/questions/why_words.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

using budgets::Hold;
using budgets::Possible;

std::int64_t rounded_down(std::int64_t worth) {
  const std::int64_t days = worth / worth_per_want_day;
  return days * worth_per_want_day > worth ? days - 1 : days;
}

class WhyTeller {
 public:
  WhyTeller(const View& view, bool proven, int job) : view_(view), proven_(proven), job_(job) {}

  WhyReport tell(const budgets::Why& why) const {
    WhyReport report;
    report.build = &view_.build;
    report.proof = proven_ ? Proof::proven : Proof::stopped;
    report.job = view_.job(job_).id;
    report.name = view_.job(job_).name;
    if (const int now = view_.stage_of(job_); now >= 0) {
      report.stage = view_.place_of(now) + 1;
      report.bench = view_.stage(now).bench;
    } else {
      for (const LeftOut& left : left_out_of(view_, proven_)) {
        if (left.job == report.job) report.left_out = left.reason;
      }
    }
    for (const budgets::AtStage& at : why.stages) report.stages.push_back(stage(at));
    report.notes = notes();
    const auto better = [](const WhyStage& one) { return one.possible == Possible::yes && one.loss < 0; };
    if (std::any_of(report.stages.begin(), report.stages.end(), better)) {
      report.notes.push_back(
          "On the way a better plan than the one asked about was found; --effort thorough may plan it.");
    }
    return report;
  }

 private:
  WhyStage stage(const budgets::AtStage& at) const {
    WhyStage told;
    told.number = view_.place_of(at.stage) + 1;
    told.payday = view_.stage(at.stage).payday;
    told.bench = view_.stage(at.stage).bench;
    told.possible = at.possible;
    for (const Hold hold : at.holds) told.stopped_by.push_back(hold_text(hold));
    for (const Hold hold : at.others) told.or_by.push_back(hold_text(hold));
    told.stopped_by_proven = at.holds_proven;
    if (at.plan) compare_with(*at.plan, at.bound, told);
    told.cash = at.cash;
    told.minutes = at.minutes;
    told.sentences = why_sentences(view_, job_, at, told);
    return told;
  }

  void compare_with(const budgets::Plan& plan, std::int64_t bound, WhyStage& told) const {
    told.loss = rounded_down(view_.plan.value - plan.value);
    told.least_loss = std::min(told.loss, rounded_down(view_.plan.value - bound));
    told.dearer = plan.spent - view_.plan.spent;
    for (int j = 0; j < view_.problem.job_count(); ++j) {
      const int from = view_.stage_of(j), to = plan.schedule.stage_of[static_cast<std::size_t>(j)];
      if (j != job_ && from != to) {
        told.shifts.push_back({view_.job(j).id, view_.job(j).name, counted(from), counted(to)});
      }
    }
  }

  int counted(int stage) const { return stage < 0 ? 0 : view_.place_of(stage) + 1; }

  std::vector<std::string> notes() const {
    std::vector<std::string> notes{
        "\"cannot have it\" means: no plan at all keeps every rule with it there, whatever else is left out. "
        "A "
        "rule stops it if, lifted by itself, such a plan exists."};
    if (proven_) {
      notes.push_back(
          "What moves it: the least that makes a best plan have it in that stage or an earlier one.");
    } else {
      notes.push_back(
          "The plan is not proven best, so what moves it is told for a plan that is worth no less than this "
          "one, and as bounds: with the upper figure such a plan was found, below the lower one there is "
          "none.");
    }
    if (!view_.build.agreement.jobs.empty()) {
      notes.push_back("Leaving agreed jobs where they are counts in what a plan is worth.");
    }
    return notes;
  }

  const View& view_;
  bool proven_;
  int job_;
};

WhyReport asked(const build::Build& build, const Staging& staging, budgets::Solver& solver,
                const budgets::Plan& plan, bool proven, int job, budgets::WhyOptions options) {
  const View view{build, staging, solver.problem(), plan};
  const bool asked_for_none = options.first < 0;
  if (asked_for_none) return WhyTeller(view, proven, job).tell({});
  return WhyTeller(view, proven, job).tell(budgets::why(solver, plan, proven, job, options));
}

}  // namespace

budgets::Effort effort_below(budgets::Effort effort) {
  return effort == budgets::Effort::thorough ? budgets::Effort::normal : budgets::Effort::quick;
}

std::string hold_text(Hold hold) {
  switch (hold) {
    case Hold::dates:
      return "dates";
    case Hold::cash:
      return "money";
    case Hold::hours:
      return "bench hours";
    case Hold::order:
      return "order of jobs";
    case Hold::delivery:
      return "delivery";
    case Hold::mates:
      return "mates";
    case Hold::clashes:
      return "clashes";
    case Hold::tools:
      return "tools";
    case Hold::choices:
      return "one-of choices";
    default:
      return "other musts";
  }
}

WhyAnswer why(const Standing& standing, const Id& id, int stage, const budgets::SolveOptions& options) {
  const build::Build& build = *standing.build;
  const int job = find_id(build.jobs, id);
  if (job < 0) throw std::invalid_argument("why: no job '" + id + "'");
  const Staging staging = to_staging(build);
  budgets::Solver solver{budgets::Problem(staging.problem)};
  const budgets::Result result = solver.solve(options);
  if (const auto* impossible = std::get_if<budgets::Impossible>(&result)) {
    return conflict_of(build, solver.problem(), *impossible, options);
  }
  budgets::WhyOptions follow;
  follow.effort = effort_below(options.effort);
  follow.stop = options.stop;
  if (stage > 0) follow.first = follow.last = stage - 1 - build.money.stages_over;
  const budgets::Plan* plan = budgets::plan_of(result);
  if (plan == nullptr) return NoPlan{std::get<budgets::Stopped>(result).work};
  const auto* proven = std::get_if<budgets::Proven>(&result);
  return asked(build, staging, solver, *plan, proven != nullptr && proven->ties_proven, job, follow);
}

}  // namespace fettlefund::planning
