#include "budgets/what_if/what_if.hpp"

#include <algorithm>

#include "budgets/problem/check.hpp"
#include "budgets/values/lists.hpp"
#include "budgets/what_if/asker.hpp"

namespace fettlefund::budgets {
namespace {

using search::Answer;

/// Of one follow-up solve where the plan asked about is not proven: more of them say more than longer ones.
constexpr std::int64_t steps_without_proof = 100'000'000;

Possible possible(Answer answer) {
  return answer == Answer::yes ? Possible::yes : answer == Answer::no ? Possible::no : Possible::unknown;
}

std::int64_t steps_of(const Result& result) {
  return std::visit([](const auto& one) { return one.work.steps; }, result);
}

}  // namespace

void Asker::look_at(AtStage& at) {
  StageQuestion question(data_, job_, at.stage, purse_);
  const search::Feasibility found = question.ask({});
  at.possible = possible(found.answer);
  if (at.possible == Possible::yes) find_plan(at, *found.schedule);
  if (at.possible == Possible::no) question.explain(at);
  at.cash.allows = allowing(at, More::cash);
  at.minutes.allows = allowing(at, More::minutes);
  if (at.possible == Possible::no && contains(at.holds, Hold::cash) && at.holds.size() == 1)
    find_short_stage(at);
}

/// The best plan with the job in that stage; `any` is one to begin with. Where no proof is to be had anyway,
/// plans near the one asked about are tried first: the search goes on from what is found there.
void Asker::find_plan(AtStage& at, const Schedule& any) {
  const auto better = [&](const Plan* plan) {
    if (plan != nullptr && (!at.plan || compare(*plan, *at.plan) > 0)) at.plan = *plan;
  };
  const Plan first = std::get<Plan>(cost(solver_.problem(), any));
  better(&first);
  if (!proven_) {
    const Result near = solve(from_stage_on(at.stage));
    better(plan_of(near));
  }
  SolveOptions options = options_with(More::cash, at.stage, 0);
  options.placements = {{job_, at.stage, at.stage, true}};
  const Result result = solve(options);
  better(plan_of(result));
  at.bound = at.plan->value;
  if (const auto* stopped = std::get_if<Stopped>(&result)) at.bound = std::max(at.bound, stopped->bound);
  if (proven_) at.bound = std::min(at.bound, plan_.value);
}

/// The job in that stage; jobs of earlier stages, and those after its own, stay; the others may go anywhere
/// from that stage on.
SolveOptions Asker::from_stage_on(int stage) const {
  SolveOptions options = options_with(More::cash, stage, 0);
  std::vector<char> asked(data_.jobs.size(), 0);
  for (const int j : jobs_with(data_, job_)) asked[j] = 1;
  const int own = plan_.schedule.stage_of[job_], last = own < 0 ? stage : own;
  for (int j = 0; j < solver_.problem().job_count(); ++j) {
    const int now = plan_.schedule.stage_of[j];
    if (j == job_) {
      options.placements.push_back({j, stage, stage, true});
    } else if (now >= 0 && (now < stage || now > last) && !asked[j]) {
      options.placements.push_back({j, now, now, true});
    } else if (!asked[j]) {
      options.placements.push_back({j, stage, -1, false});
    }
  }
  return options;
}

Least Asker::allowing(const AtStage& at, More kind) {
  if (at.possible == Possible::yes) return {0, 0, false};
  if (at.possible == Possible::unknown) return {};
  const Hold hold = kind == More::cash ? Hold::cash : Hold::hours;
  if (!contains(at.others, hold) && (at.holds.size() != 1 || at.holds[0] != hold)) {
    return {1, {}, at.holds_proven};
  }
  StageQuestion question(data_, job_, at.stage, purse_);
  const auto ask = [&](std::int64_t amount) -> Reply {
    const search::Feasibility found =
        kind == More::cash ? question.ask_with_cash(amount) : question.ask_with_minutes(amount);
    if (found.answer != Answer::yes) return {possible(found.answer), 0};
    return {Possible::yes, needed(kind, at.stage, *found.schedule)};
  };
  return least_enough(ask, {1, {}, false}, unlimited(kind));
}

/// With the least extra cash: the first payday that leaves no more than its floor.
void Asker::find_short_stage(AtStage& at) {
  if (!at.cash.allows.at_most) return;
  const std::int64_t extra = *at.cash.allows.at_most;
  const search::Feasibility found = StageQuestion(data_, job_, at.stage, purse_).ask_with_cash(extra);
  if (!found.schedule) return;
  ProblemData rich = data_;
  rich.opening += Money::of_minor(extra);
  const auto costed = cost(Problem(rich), *found.schedule);
  const Plan* plan = std::get_if<Plan>(&costed);
  if (plan == nullptr) return;
  for (std::size_t t = plan->stages.size(); t-- > 0;) {
    if (plan->stages[t].cash_after == data_.stages[t].floor) at.short_stage = static_cast<int>(t);
  }
}

/// So much that no plan can use more.
std::int64_t Asker::unlimited(More kind) const {
  if (kind == More::cash) return search::boundless(data_);
  std::int64_t sum = 0;
  for (const Job& job : data_.jobs) sum += job.minutes;
  for (const Removal& removal : data_.removals) sum += removal.minutes;
  return sum;
}

/// What a schedule that keeps all other rules takes beyond what there is.
std::int64_t Asker::needed(More kind, int stage, const Schedule& schedule) const {
  if (kind == More::cash) return search::extra_needed(data_, schedule);
  std::int64_t minutes = -data_.stages[stage].minutes;
  std::vector<char> opened(data_.removals.size(), 0);
  for (std::size_t j = 0; j < data_.jobs.size(); ++j) {
    if (schedule.stage_of[j] != stage) continue;
    minutes += data_.jobs[j].minutes;
    for (const int r : solver_.problem().opened_by(static_cast<int>(j))) opened[r] = 1;
  }
  for (std::size_t r = 0; r < opened.size(); ++r) minutes += opened[r] ? data_.removals[r].minutes : 0;
  return std::max<std::int64_t>(0, minutes);
}

/// What a plan takes as it is bought: bought otherwise the schedule might do with less, but be dearer.
std::int64_t Asker::needed(More kind, int stage, const Plan& plan) const {
  return kind == More::cash ? search::extra_for(data_, plan) : needed(kind, stage, plan.schedule);
}

SolveOptions Asker::options_with(More kind, int stage, std::int64_t amount) const {
  SolveOptions options;
  options.effort = options_.effort;
  options.stop = options_.stop;
  options.explain = false;
  if (!proven_) options.steps = steps_without_proof;
  if (kind == More::cash) {
    options.extra_cash = Money::of_minor(amount);
  } else {
    options.extra_minutes.assign(data_.stages.size(), 0);
    options.extra_minutes[stage] = amount;
  }
  return options;
}

Result Asker::solve(const SolveOptions& options) {
  if (purse_.out()) return Stopped{std::nullopt, Limits::worth, {}};
  Result result = solver_.solve(options);
  purse_.used += steps_of(result);
  return result;
}

std::vector<int> jobs_with(const ProblemData& data, int job) {
  const std::vector<std::vector<int>> required = search::required_jobs(data);
  std::vector<int> jobs{job};
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    for (const int other : required[jobs[i]]) {
      if (std::find(jobs.begin(), jobs.end(), other) == jobs.end()) jobs.push_back(other);
    }
  }
  std::sort(jobs.begin(), jobs.end());
  return jobs;
}

Why why(Solver& solver, const Plan& plan, bool proven, int job, const WhyOptions& options) {
  return Asker(solver, plan, proven, job, options).all();
}

}  // namespace fettlefund::budgets
