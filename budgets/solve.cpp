#include "budgets/solve.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <stdexcept>
#include <utility>

#include "budgets/search/attempt.hpp"
#include "budgets/search/conflict.hpp"
#include "budgets/search/in_order.hpp"

namespace fettlefund::budgets {
namespace {

using search::Attempt;
using search::Found;
using search::Meter;
using search::Verdict;

struct Budget {
  std::int64_t steps;           ///< where plans are tried without shopping
  std::int64_t shopping_steps;  ///< where goods have to be shopped for, in a small problem
  search::Size size;
};

Budget budget_of(Effort effort) {
  switch (effort) {
    case Effort::quick:
      return {300'000'000, 200'000'000, {200'000, 100'000}};
    case Effort::normal:
      return {5'000'000'000, 1'800'000'000, {1'500'000, 300'000, true}};
    default:
      return {50'000'000'000, 20'000'000'000, {1'500'000, 1'000'000, true}};
  }
}

/// More for large problems, up to four times as many: there the first plans are far from the best.
std::int64_t shopping_steps(const Budget& budget, const Problem& problem) {
  const std::int64_t pairs = std::int64_t{problem.job_count()} * problem.stage_count();
  return budget.shopping_steps * std::clamp<std::int64_t>(pairs, 400, 1600) / 400;
}

void place(Job& job, const Placement& placement, int stages) {
  job.earliest = std::max(job.earliest, placement.first);
  const int last = placement.last == -1 ? stages - 1 : placement.last;
  job.latest = std::min(job.latest == -1 ? stages - 1 : job.latest, last);
  job.must |= placement.must;
  if (job.latest < job.earliest) {
    job.earliest = stages;
    job.latest = -1;
  }
}

/// Puts what the options add into each stage.
void add_extras(std::vector<Stage>& stages, const SolveOptions& options) {
  const auto fits = [&](std::size_t size) { return size == 0 || size == stages.size(); };
  if (!fits(options.extra_income.size()) || !fits(options.extra_minutes.size())) {
    throw std::invalid_argument("solve: extras are not one a stage");
  }
  for (std::size_t t = 0; t < options.extra_income.size(); ++t) stages[t].cash_in += options.extra_income[t];
  for (std::size_t t = 0; t < options.extra_minutes.size(); ++t)
    stages[t].minutes += options.extra_minutes[t];
}

/// The problem as the options change it.
Problem changed(const Problem& problem, const SolveOptions& options) {
  ProblemData data = problem.data();
  data.opening += options.extra_cash;
  add_extras(data.stages, options);
  const int stages = problem.stage_count();
  for (const Placement& placement : options.placements) {
    if (placement.job < 0 || placement.job >= problem.job_count()) {
      throw std::invalid_argument("solve: placement of job " + std::to_string(placement.job));
    }
    if (placement.first < 0 || placement.first > stages || placement.last < -1 || placement.last >= stages) {
      throw std::invalid_argument("solve: stages of the placement of job " + std::to_string(placement.job));
    }
    place(data.jobs[placement.job], placement, stages);
  }
  return Problem(std::move(data));
}

Plan checked_plan(const Problem& problem, const Found& found) {
  auto costed = cost(problem, found.schedule);
  Plan* plan = std::get_if<Plan>(&costed);
  if (plan == nullptr) {
    throw std::logic_error("solve: " + std::get<1>(costed).front().what);
  }
  const bool same = plan->value == found.rank.value && plan->spent.minor() == found.rank.spent &&
                    plan->minutes == found.rank.minutes;
  if (!same) throw std::logic_error("solve: the search and cost disagree about a plan");
  const auto violations = verify(problem, *plan);
  if (!violations.empty()) throw std::logic_error("solve: " + violations.front().what);
  return std::move(*plan);
}

Found found_by(const Plan& plan) { return {plan.schedule, {plan.value, plan.spent.minor(), plan.minutes}}; }

std::vector<int> musts_of(const Problem& problem) {
  std::vector<int> musts;
  for (int j = 0; j < problem.job_count(); ++j) {
    if (problem.data().jobs[j].must) musts.push_back(j);
  }
  return musts;
}

std::optional<Found> costed_plan(const Problem& problem, const search::Feasibility& found) {
  if (!found.schedule) return std::nullopt;
  const auto costed = cost(problem, *found.schedule);
  const Plan* plan = std::get_if<Plan>(&costed);
  return plan == nullptr ? std::nullopt : std::optional<Found>(found_by(*plan));
}

/// A plan whose only care is for the musts, found with a tenth of the steps.
std::optional<Found> meet_musts(const Problem& problem, const Budget& budget, Meter& meter) {
  search::Feasible feasible(problem.data(), budget.size, budget.steps / 10, meter);
  return costed_plan(problem, feasible.ask(musts_of(problem)));
}

/// What a first look at the musts tells before the search for the best plan.
struct FirstLook {
  bool impossible = false;
  std::vector<int> musts;  ///< if so: musts that cannot all be met
  std::optional<Found> plan;
};

constexpr std::int64_t first_look_share = 20;  ///< of the steps there are

/// Puts in the musts alone, or learns that they contradict each other, where that takes little.
FirstLook look_at_musts(const Problem& problem, Meter& meter) {
  const std::vector<int> musts = musts_of(problem);
  if (musts.empty()) return {};
  const std::int64_t share = std::min(meter.left() / first_look_share, search::little_steps);
  search::Feasible feasible(problem.data(), search::little, share, meter);
  const search::Feasibility found = feasible.ask(musts);
  if (found.answer == search::Answer::no) return {true, musts, std::nullopt};
  if (found.answer == search::Answer::yes) return {false, {}, costed_plan(problem, found)};
  std::vector<int> contradicting = search::contradicting_musts(problem, search::little, share, meter);
  const bool impossible = !contradicting.empty();
  return {impossible, std::move(contradicting), std::nullopt};
}

/// Whether a lower effort's work comes first: its plan is offered to the higher one, and its bound counts, so
/// that more effort never ends worse. Where layers prove most plans that would only take longer.
bool climbs(const Problem& now, const SolveOptions& options) {
  if (options.effort == Effort::quick || options.steps) return false;
  const search::Model model(now);
  const search::Relaxed relaxed(model);
  return !relaxed.exact || relaxed.units > 50;
}

/// What lower efforts have come to.
struct Below {
  Work work;
  std::int64_t bound = std::numeric_limits<std::int64_t>::max();

  void note(const Result& result) {
    if (const auto* stopped = std::get_if<Stopped>(&result)) {
      work = stopped->work;
      bound = std::min(bound, stopped->bound);
    } else if (const auto* proven = std::get_if<Proven>(&result)) {
      work = proven->work;
      bound = proven->plan.value;
    } else {
      work = std::get<Impossible>(result).work;
    }
  }
};

bool is_set(const std::atomic<bool>* stop) {
  return stop != nullptr && stop->load(std::memory_order_relaxed);
}

/// Whether this end of a quick search is none yet.
bool goes_on(const Result& result, const SolveOptions& options) {
  const auto* stopped = std::get_if<Stopped>(&result);
  return options.until_a_plan && options.effort == Effort::quick && stopped != nullptr && !stopped->plan &&
         !is_set(options.stop);
}

search::Watch watch_with(const SolveOptions& options, const Meter& meter) {
  if (!options.on_progress) return {};
  return [&options, &meter](const std::optional<Found>& best, std::int64_t bound, int layer,
                            std::int64_t states) {
    Progress progress;
    if (best) progress.value = best->rank.value;
    progress.bound = bound;
    progress.layer = layer;
    progress.work = {meter.steps(), states};
    options.on_progress(progress);
  };
}

}  // namespace

const Plan* plan_of(const Result& result) {
  if (const auto* proven = std::get_if<Proven>(&result)) return &proven->plan;
  const auto* stopped = std::get_if<Stopped>(&result);
  return stopped != nullptr && stopped->plan ? &*stopped->plan : nullptr;
}

std::optional<Effort> find_effort(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, Effort>, 3> names{
      {{"quick", Effort::quick}, {"normal", Effort::normal}, {"thorough", Effort::thorough}}};
  for (const auto& [word, effort] : names) {
    if (word == name) return effort;
  }
  return std::nullopt;
}

struct Solver::State {
  explicit State(Problem problem) : given(std::move(problem)), order(given.data()) {}

  Result solve(const SolveOptions& options);
  Impossible refuse(const Problem& now, const SolveOptions& options, std::int64_t steps,
                    std::int64_t states) const;
  Result solve_at(const Problem& now, const SolveOptions& options, const Below& below, bool last = true);
  void recall(const Problem& now, const std::vector<Schedule>& known, Attempt& attempt) const;
  void learn(Attempt& attempt, const Verdict& verdict);

  Problem given;
  search::InOrder order;  ///< all below and all that is solved is told in its places
  std::vector<std::vector<double>> multipliers;
  std::vector<Schedule> schedules;  ///< of the best plans of earlier solves
};

/// Tries plans that are known, from the caller and from earlier solves, on the problem as it now is.
void Solver::State::recall(const Problem& now, const std::vector<Schedule>& known, Attempt& attempt) const {
  attempt.search().start_from(multipliers);
  for (const auto* list : {&known, &schedules}) {
    for (const Schedule& schedule : *list) {
      const auto costed = cost(now, schedule);
      const Plan* plan = std::get_if<Plan>(&costed);
      if (plan != nullptr) attempt.search().offer(found_by(*plan));
    }
  }
}

void Solver::State::learn(Attempt& attempt, const Verdict& verdict) {
  multipliers = attempt.search().multipliers();
  if (!verdict.best) return;
  const auto same = [&](const Schedule& s) { return s.stage_of == verdict.best->schedule.stage_of; };
  if (std::none_of(schedules.begin(), schedules.end(), same)) schedules.push_back(verdict.best->schedule);
}

/// Each lower effort first: its plans and its bound are kept. Not its multipliers: too few steps have gone
/// into them, and a search that begins with them ends with a poorer bound than one that begins anew.
/// Equally good plans with less money are the last one's care.
Result Solver::State::solve(const SolveOptions& options) {
  const Problem now = changed(order.problem(), options);
  const std::vector<std::vector<double>> full = multipliers;
  Below below;
  if (climbs(now, options)) {
    SolveOptions lower = options;
    lower.explain = false;
    for (const Effort effort : {Effort::quick, Effort::normal}) {
      if (effort == options.effort) break;
      lower.effort = effort;
      Result result = solve_at(now, lower, below, false);
      const auto* proven = std::get_if<Proven>(&result);
      if ((proven != nullptr && proven->ties_proven) || is_set(options.stop)) return result;
      below.note(result);
      multipliers = full;
    }
  }
  Result result = solve_at(now, options, below);
  if (!goes_on(result, options)) return result;
  below.note(result);
  multipliers = full;
  SolveOptions higher = options;
  higher.effort = Effort::normal;
  higher.steps.reset();
  return solve_at(now, higher, below);
}

Result Solver::State::solve_at(const Problem& now, const SolveOptions& options, const Below& below,
                               bool last) {
  const Budget budget = budget_of(options.effort);
  Meter meter(budget.steps, options.stop);
  meter.add(below.work.steps);
  Attempt attempt(now, budget.size, meter, watch_with(options, meter));
  if (attempt.shops()) meter.lower_limit(shopping_steps(budget, now));
  if (options.steps) meter.lower_limit(*options.steps);
  recall(now, options.known, attempt);
  const FirstLook look = attempt.search().best() ? FirstLook{} : look_at_musts(now, meter);
  if (look.impossible) return refuse(search::with_musts(now, look.musts), options, meter.steps(), 0);
  if (look.plan) attempt.search().offer(*look.plan);
  attempt.on_no_plan([&] { return meet_musts(now, budget, meter); });
  Verdict verdict = attempt.optimise(below.bound, !last);
  verdict.bound = std::min(verdict.bound, below.bound);
  if (verdict.best && verdict.best->rank.value >= verdict.bound) verdict.proven = true;
  learn(attempt, verdict);
  Work work{meter.steps(), below.work.states + attempt.search().states()};
  if (verdict.best) {
    Plan plan = checked_plan(now, *verdict.best);
    if (verdict.proven) return Proven{std::move(plan), work, verdict.ties_proven};
    return Stopped{std::move(plan), verdict.bound, work};
  }
  if (!verdict.proven) return Stopped{std::nullopt, verdict.bound, work};
  return refuse(now, options, work.steps, work.states);
}

/// Explains why the musts of `now` cannot be met, after so much work.
Impossible Solver::State::refuse(const Problem& now, const SolveOptions& options, std::int64_t steps,
                                 std::int64_t states) const {
  const Budget budget = budget_of(options.effort);
  Impossible impossible;
  impossible.irreducible = false;
  Meter more(budget.steps, options.stop);
  if (options.explain) impossible = search::explain(now, budget.size, budget.steps / 8, more);
  impossible.work = {steps + more.steps(), states};
  return impossible;
}

Solver::Solver(Problem problem) : state_(std::make_unique<State>(std::move(problem))) {}
Solver::~Solver() = default;
Solver::Solver(Solver&&) noexcept = default;
Solver& Solver::operator=(Solver&&) noexcept = default;
const Problem& Solver::problem() const { return state_->given; }
Result Solver::solve(const SolveOptions& options) {
  return state_->order.back(state_->solve(state_->order.there(options)));
}

Result solve(const Problem& problem, const SolveOptions& options) { return Solver(problem).solve(options); }

}  // namespace fettlefund::budgets
