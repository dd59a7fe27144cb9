#include "budgets/what_if/frontier.hpp"

#include <algorithm>
#include <utility>

#include "budgets/costing/costing.hpp"
#include "budgets/search/conflict.hpp"

namespace fettlefund::budgets {
namespace {

std::int64_t rounded_up(std::int64_t amount, std::int64_t by) {
  return amount / by + (amount % by > 0 ? 1 : 0);
}

/// The data with another amount than the one it has.
ProblemData with_amount(ProblemData data, const FrontierQuestion& question, std::int64_t amount) {
  for (std::size_t t = 0; t < data.stages.size(); ++t) {
    data.stages[t].cash_in += Money::of_minor(amount - question.now) * question.times[t];
  }
  return data;
}

/// The least amount that is enough for a plan as it is bought.
std::optional<std::int64_t> least_for(const ProblemData& data, const FrontierQuestion& question,
                                      const Plan& plan) {
  std::optional<std::int64_t> least;
  std::int64_t times = 0;
  Money cash = data.opening;
  for (std::size_t t = 0; t < data.stages.size(); ++t) {
    times += question.times[t];
    cash += data.stages[t].cash_in - plan.stages[t].spent;
    const std::int64_t missing = (data.stages[t].floor - cash).minor();
    if (times == 0 && missing > 0) return std::nullopt;
    if (times == 0) continue;
    const std::int64_t amount = question.now + rounded_up(missing, times);
    least = std::max(least.value_or(amount), amount);
  }
  return least;
}

std::optional<Plan> plan_with(ProblemData data, const Schedule& schedule) {
  const Problem problem(std::move(data));
  return Coster(problem).plan(schedule);
}

class Walker {
 public:
  Walker(Solver& solver, const FrontierQuestion& question) : solver_(solver), question_(question) {}

  Frontier walk() {
    for (const std::int64_t amount : question_.amounts) frontier_.points.push_back(ask(amount));
    share();
    find_steps();
    frontier_.work = work_;
    return std::move(frontier_);
  }

 private:
  FrontierPoint ask(std::int64_t amount);
  std::optional<Plan> recosted(const Plan& plan, std::int64_t amount) const;
  std::optional<std::int64_t> enough_for(const Plan& plan) const;
  void share();
  void find_steps();
  bool steps_between(const FrontierPoint& low, const FrontierPoint& high, std::vector<FrontierStep>& steps);
  bool same(const FrontierPoint& a, const FrontierPoint& b) const {
    return a.plan && b.plan ? compare(*a.plan, *b.plan) == 0 : !a.plan && !b.plan;
  }

  Solver& solver_;
  const FrontierQuestion& question_;
  Frontier frontier_;
  std::int64_t work_ = 0;
};

/// The plan with the cash of another amount, which is enough for it.
std::optional<Plan> Walker::recosted(const Plan& plan, std::int64_t amount) const {
  return plan_with(with_amount(solver_.problem().data(), question_, amount), plan.schedule);
}

std::optional<std::int64_t> Walker::enough_for(const Plan& plan) const {
  return least_for(solver_.problem().data(), question_, plan);
}

FrontierPoint Walker::ask(std::int64_t amount) {
  SolveOptions options;
  options.effort = question_.effort;
  options.stop = question_.stop;
  options.explain = false;
  options.steps = question_.steps_each;
  options.known = question_.known;
  for (const std::int64_t times : question_.times) {
    options.extra_income.push_back(Money::of_minor(amount - question_.now) * times);
  }
  const Result result = solver_.solve(options);
  work_ += std::visit([](const auto& one) { return one.work.steps; }, result);
  if (const auto* proven = std::get_if<Proven>(&result)) {
    return {amount, proven->plan, proven->plan.value, proven->ties_proven};
  }
  if (const auto* stopped = std::get_if<Stopped>(&result))
    return {amount, stopped->plan, stopped->bound, false};
  return {amount, {}, 0, true};
}

/// Hands bounds down and plans to every amount that is enough for them.
void Walker::share() {
  auto& points = frontier_.points;
  for (std::size_t i = points.size(); i-- > 1;) {
    const FrontierPoint& more = points[i];
    if (more.plan || !more.proven) points[i - 1].bound = std::min(points[i - 1].bound, more.bound);
  }
  for (const FrontierPoint& from : std::vector<FrontierPoint>(points)) {
    if (!from.plan) continue;
    const auto least = enough_for(*from.plan);
    for (FrontierPoint& to : points) {
      if (to.proven || !least || to.amount < *least) continue;
      if (to.plan && compare(*from.plan, *to.plan) <= 0) continue;
      // With more money the same schedule may be bought in another way, and that may not be found again.
      std::optional<Plan> again = recosted(*from.plan, to.amount);
      if (again && (!to.plan || compare(*again, *to.plan) > 0)) to.plan = std::move(again);
    }
  }
}

void Walker::find_steps() {
  auto& points = frontier_.points;
  std::vector<FrontierStep> all;
  for (std::size_t i = points.size(); i-- > 0;) {
    if (!points[i].proven) break;
    frontier_.complete_from = points[i].amount;
    if (i == 0 || !points[i - 1].proven || same(points[i - 1], points[i])) continue;
    if (!steps_between(points[i - 1], points[i], all)) {
      if (!all.empty()) frontier_.complete_from = std::min(points[i].amount, all.back().amount);
      break;
    }
  }
  frontier_.steps.assign(all.rbegin(), all.rend());
}

/// From the higher amount down: a best plan stays one down to the least amount that is enough for it; what is
/// best just below that is asked next. Steps are added downwards. False: not all of them were found.
bool Walker::steps_between(const FrontierPoint& low, const FrontierPoint& high,
                           std::vector<FrontierStep>& steps) {
  FrontierPoint now = high;
  while (now.plan) {
    const auto least = enough_for(*now.plan);
    if (!least || *least <= low.amount) return true;
    FrontierPoint below = *least - 1 == low.amount ? low : ask(*least - 1);
    if (!below.proven || work_ > question_.steps) return false;
    if (!same(below, now)) steps.push_back({*least, *recosted(*now.plan, *least)});
    if (same(below, low)) return true;
    now = std::move(below);
  }
  return true;
}

}  // namespace

std::optional<std::int64_t> least_amount(const Problem& problem, const FrontierQuestion& question,
                                         const Schedule& schedule) {
  ProblemData data = problem.data();
  data.opening += Money::of_minor(search::boundless(data));
  std::optional<std::int64_t> least;
  // With less money the same schedule may be bought in another way, which is dearer.
  for (std::optional<Plan> plan = plan_with(data, schedule); plan;) {
    const auto enough = least_for(problem.data(), question, *plan);
    if (!enough || (least && *enough >= *least)) return least;
    least = enough;
    plan = plan_with(with_amount(problem.data(), question, *least - 1), schedule);
  }
  return least;
}

Frontier frontier(Solver& solver, const FrontierQuestion& question) {
  return Walker(solver, question).walk();
}

}  // namespace fettlefund::budgets
