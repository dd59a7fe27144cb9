#include "budgets/what_if.hpp"

#include <algorithm>
#include <map>

#include "budgets/problem_check.hpp"
#include "budgets/what_if_holds.hpp"
#include "budgets/what_if_least.hpp"
#include "budgets/what_if_near.hpp"

namespace fettlefund::budgets {
namespace {

using search::Answer;

/// Of one follow-up solve where the plan asked about is not proven: more of them say more than longer ones.
constexpr std::int64_t steps_without_proof = 100'000'000;
/// And of all those that look for a smaller amount that is enough.
constexpr std::int64_t refining_without_proof = 1'000'000'000;

bool holds(const std::vector<Hold>& list, Hold hold) {
  return std::find(list.begin(), list.end(), hold) != list.end();
}

Possible possible(Answer answer) {
  return answer == Answer::yes ? Possible::yes : answer == Answer::no ? Possible::no : Possible::unknown;
}

/// What a plan is compared by.
struct Mark {
  std::int64_t value = 0, spent = 0, minutes = 0;
  bool operator==(const Mark&) const = default;
  bool no_worse(const Mark& other) const {
    if (value != other.value) return value > other.value;
    return spent != other.spent ? spent < other.spent : minutes <= other.minutes;
  }
};
Mark mark_of(const Plan& plan) { return {plan.value, plan.spent.minor(), plan.minutes}; }

const Plan* plan_of(const Result& result) {
  if (const auto* proven = std::get_if<Proven>(&result)) return &proven->plan;
  const auto* stopped = std::get_if<Stopped>(&result);
  return stopped && stopped->plan ? &*stopped->plan : nullptr;
}

std::int64_t steps_of(const Result& result) {
  return std::visit([](const auto& one) { return one.work.steps; }, result);
}

enum class Kind { cash, minutes };

class Asker {
 public:
  Asker(Solver& solver, const Plan& plan, bool proven, int job, const WhyOptions& options)
      : solver_(solver),
        data_(solver.problem().data()),
        plan_(plan),
        proven_(proven),
        job_(job),
        options_(options),
        purse_{options.steps, 0, options.stop} {}

  Why all() {
    const int own = plan_.schedule.stage_of[job_];
    const int before = own < 0 ? solver_.problem().stage_count() - 1 : own - 1;
    const int last = options_.last < 0 ? before : std::min(options_.last, before);
    Why why;
    for (int t = options_.first; t <= last; ++t) why.stages.emplace_back().stage = t;
    for (auto at = why.stages.rbegin(); at != why.stages.rend(); ++at) look_at(*at);
    find_movers(why.stages);
    why.steps = purse_.used;
    return why;
  }

 private:
  void look_at(AtStage& at);
  void find_plan(AtStage& at, const Schedule& any);
  SolveOptions from_stage_on(int stage) const;
  void find_short_stage(AtStage& at);
  Least allowing(const AtStage& at, Kind kind);
  std::optional<std::int64_t> near_by(Kind kind, int stage) const;
  void find_movers(std::vector<AtStage>& stages);
  bool no_cash_allows(const std::vector<AtStage>& stages, std::size_t at) const;
  std::int64_t too_little_cash(const std::vector<AtStage>& stages, std::size_t at) const;
  void move_by(Mover& mover, Kind kind, int stage);
  std::int64_t unlimited(Kind kind) const;
  std::int64_t needed(Kind kind, int stage, const Schedule& schedule) const;
  SolveOptions options_with(Kind kind, int stage, std::int64_t amount) const;
  Result solve(const SolveOptions& options);
  Reply reaches(Kind kind, int stage, std::int64_t amount, const Mark& target);
  std::optional<Mark> best_with(Kind kind, int stage, std::int64_t amount);

  Solver& solver_;
  const ProblemData& data_;
  const Plan& plan_;
  bool proven_;
  int job_;
  const WhyOptions& options_;
  Purse purse_;
  std::map<std::int64_t, std::optional<Mark>> best_with_cash_;
};

void Asker::look_at(AtStage& at) {
  StageQuestion question(data_, job_, at.stage, purse_);
  const search::Feasibility found = question.ask({});
  at.possible = possible(found.answer);
  if (at.possible == Possible::yes) find_plan(at, *found.schedule);
  if (at.possible == Possible::no) question.explain(at);
  at.cash.allows = allowing(at, Kind::cash);
  at.minutes.allows = allowing(at, Kind::minutes);
  if (at.possible == Possible::no && holds(at.holds, Hold::cash) && at.holds.size() == 1)
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
  SolveOptions options = options_with(Kind::cash, at.stage, 0);
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
  SolveOptions options = options_with(Kind::cash, stage, 0);
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

Least Asker::allowing(const AtStage& at, Kind kind) {
  if (at.possible == Possible::yes) return {0, 0, false};
  if (at.possible == Possible::unknown) return {};
  const Hold hold = kind == Kind::cash ? Hold::cash : Hold::hours;
  if (!holds(at.others, hold) && (at.holds.size() != 1 || at.holds[0] != hold)) {
    return {1, {}, at.holds_proven};
  }
  StageQuestion question(data_, job_, at.stage, purse_);
  const auto ask = [&](std::int64_t amount) -> Reply {
    const search::Feasibility found =
        kind == Kind::cash ? question.ask_with_cash(amount) : question.ask_with_minutes(amount);
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
std::int64_t Asker::unlimited(Kind kind) const {
  if (kind == Kind::cash) return search::boundless(data_);
  std::int64_t sum = 0;
  for (const Job& job : data_.jobs) sum += job.minutes;
  for (const Removal& removal : data_.removals) sum += removal.minutes;
  return sum;
}

/// What a schedule that keeps all other rules takes beyond what there is.
std::int64_t Asker::needed(Kind kind, int stage, const Schedule& schedule) const {
  if (kind == Kind::cash) return search::extra_needed(data_, schedule);
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

SolveOptions Asker::options_with(Kind kind, int stage, std::int64_t amount) const {
  SolveOptions options;
  options.effort = options_.effort;
  options.stop = options_.stop;
  options.explain = false;
  if (!proven_) options.steps = steps_without_proof;
  if (kind == Kind::cash) {
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

/// Is some plan with the job by `stage` no worse than `target`, given so much more?
Reply Asker::reaches(Kind kind, int stage, std::int64_t amount, const Mark& target) {
  SolveOptions options = options_with(kind, stage, amount);
  options.placements = {{job_, 0, stage, true}};
  const Result result = solve(options);
  const Plan* plan = plan_of(result);
  if (plan != nullptr && mark_of(*plan).no_worse(target)) {
    return {Possible::yes, needed(kind, stage, plan->schedule)};
  }
  if (std::holds_alternative<Impossible>(result)) return {Possible::no, 0};
  if (const auto* stopped = std::get_if<Stopped>(&result)) {
    return {stopped->bound < target.value ? Possible::no : Possible::unknown, 0};
  }
  const auto& best = std::get<Proven>(result);
  return {best.ties_proven || best.plan.value < target.value ? Possible::no : Possible::unknown, 0};
}

/// The mark of the best plans given so much more; nothing where it is not proven.
std::optional<Mark> Asker::best_with(Kind kind, int stage, std::int64_t amount) {
  if (kind == Kind::cash) {
    if (const auto known = best_with_cash_.find(amount); known != best_with_cash_.end()) return known->second;
  }
  const Result result = solve(options_with(kind, stage, amount));
  std::optional<Mark> mark;
  const auto* best = std::get_if<Proven>(&result);
  if (best != nullptr && best->ties_proven) mark = mark_of(best->plan);
  if (kind == Kind::cash) best_with_cash_[amount] = mark;
  return mark;
}

/// First what is cheap to know for every stage, then the rest, nearest stage first, while steps last.
void Asker::find_movers(std::vector<AtStage>& stages) {
  const Least* before = nullptr;
  for (AtStage& at : stages) {
    at.cash.as_good.at_most = near_by(Kind::cash, at.stage);
    at.minutes.as_good.at_most = near_by(Kind::minutes, at.stage);
    if (at.plan && compare(*at.plan, plan_) >= 0) at.cash.as_good.at_most = at.minutes.as_good.at_most = 0;
    // What is enough for an earlier stage is enough for "this one or an earlier one".
    if (before != nullptr && before->at_most) {
      at.cash.as_good.at_most =
          std::min(at.cash.as_good.at_most.value_or(*before->at_most), *before->at_most);
    }
    before = &at.cash.as_good;
  }
  if (!proven_) purse_.limit = std::min(purse_.limit, purse_.used + refining_without_proof);
  for (std::size_t i = stages.size(); i-- > 0;) {
    Least& cash = stages[i].cash.as_good;
    cash.at_least = too_little_cash(stages, i);
    if (cash.at_most) cash.at_least = std::min(cash.at_least, *cash.at_most);
    if (no_cash_allows(stages, i)) {
      stages[i].cash.as_good.never = stages[i].cash.best.never = true;
    } else {
      move_by(stages[i].cash, Kind::cash, stages[i].stage);
    }
    move_by(stages[i].minutes, Kind::minutes, stages[i].stage);
  }
}

/// Enough where at most one other job moves besides, if that is so.
std::optional<std::int64_t> Asker::near_by(Kind kind, int stage) const {
  ProblemData plenty = data_;
  if (kind == Kind::cash) {
    plenty.opening += Money::of_minor(unlimited(kind));
  } else {
    plenty.stages[stage].minutes += unlimited(kind);
  }
  std::optional<std::int64_t> least;
  for (const Schedule& schedule : changes_near_by(Problem(std::move(plenty)), plan_, job_, stage)) {
    const std::int64_t amount = needed(kind, stage, schedule);
    if (!least || amount < *least) least = amount;
  }
  return least;
}

/// Whether no cash makes this stage or any earlier one possible.
bool Asker::no_cash_allows(const std::vector<AtStage>& stages, std::size_t at) const {
  return options_.first == 0 &&
         std::all_of(stages.begin(), stages.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                     [](const AtStage& one) { return one.cash.allows.never; });
}

/// Later stages, and all stages up to this one together, tell how little cannot be enough.
std::int64_t Asker::too_little_cash(const std::vector<AtStage>& stages, std::size_t at) const {
  const std::int64_t later = at + 1 < stages.size() ? stages[at + 1].cash.as_good.at_least : 0;
  std::optional<std::int64_t> any;
  for (std::size_t i = 0; i <= at; ++i) {
    const Least& allows = stages[i].cash.allows;
    if (!allows.never) any = std::min(any.value_or(allows.at_least), allows.at_least);
  }
  return options_.first == 0 ? std::max(later, any.value_or(0)) : later;
}

void Asker::move_by(Mover& mover, Kind kind, int stage) {
  const auto ask_for = [&](const Mark& target) {
    return [this, kind, stage, target](std::int64_t amount) { return reaches(kind, stage, amount, target); };
  };
  Mark target = mark_of(plan_);
  mover.as_good = least_enough(ask_for(target), mover.as_good, unlimited(kind));
  mover.best = {mover.as_good.at_least, {}, mover.as_good.never};
  if (!proven_) return;
  // With the least that makes one as good, better plans without it may be possible: these set the next mark.
  Least least = mover.as_good;
  while (least.exact()) {
    const auto best = best_with(kind, stage, least.at_least);
    mover.best = {least.at_least, {}, false};
    if (!best) return;
    if (*best == target || reaches(kind, stage, least.at_least, *best).is == Possible::yes) {
      mover.best.at_most = least.at_least;
      return;
    }
    target = *best;
    least = least_enough(ask_for(target), {least.at_least, {}, false}, unlimited(kind));
  }
  mover.best = {least.at_least, {}, least.never};
}

}  // namespace

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
