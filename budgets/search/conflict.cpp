#include "budgets/search/conflict.hpp"

#include <algorithm>

#include "budgets/problem/check.hpp"
#include "budgets/search/reduced.hpp"

namespace fettlefund::budgets::search {
namespace {

/// The same problem in which meeting one of `musts` is worth 1 and nothing else is worth anything.
ProblemData only_musts(const ProblemData& data, const std::vector<int>& musts) {
  ProblemData changed = data;
  changed.bother = 0;
  changed.renewals.clear();
  for (Job& job : changed.jobs) {
    job.must = false;
    std::fill(job.worth.begin(), job.worth.end(), 0);
  }
  for (int j : musts) std::fill(changed.jobs[j].worth.begin(), changed.jobs[j].worth.end(), 1);
  return changed;
}

std::vector<int> musts_of(const ProblemData& data) {
  std::vector<int> musts;
  for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j) {
    if (data.jobs[j].must) musts.push_back(j);
  }
  return musts;
}

/// Whether windows, order, groups or fit, or the money and bench time that one takes, rule out already that
/// all of `musts` are done.
bool contradict(ProblemData data, const std::vector<int>& musts) {
  for (const int j : musts) data.jobs[j].must = true;
  const Problem problem(std::move(data));
  return Model(problem).must_is_hopeless();
}

/// Leaves out every must that the others contradict each other without.
std::vector<int> filter(std::vector<int> musts, Feasible& feasible, bool& certain) {
  for (std::size_t i = 0; i < musts.size();) {
    std::vector<int> rest = musts;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
    const Answer answer = feasible.ask(rest).answer;
    certain &= answer != Answer::unknown;
    if (answer == Answer::no) {
      musts = std::move(rest);
    } else {
      ++i;
    }
  }
  return musts;
}

/// The least extra cash, by halving between what does not suffice and what a known plan needs.
std::optional<Money> find_shortage(const ProblemData& data, const std::vector<int>& musts,
                                   const Schedule& schedule, Feasible& feasible) {
  std::int64_t too_little = 0;
  std::int64_t enough = extra_needed(data, schedule);
  while (too_little + 1 < enough) {
    const std::int64_t middle = too_little + (enough - too_little) / 2;
    const Feasibility found = feasible.ask(musts, middle);
    if (found.answer == Answer::unknown) return std::nullopt;
    if (found.answer == Answer::yes) {
      enough = std::min(middle, extra_needed(data, *found.schedule));
    } else {
      too_little = middle;
    }
  }
  return Money::of_minor(enough);
}

}  // namespace

std::int64_t boundless(const ProblemData& data) {
  std::int64_t held = std::abs(data.opening.minor());
  for (const Stage& stage : data.stages) held += std::abs(stage.cash_in.minor());
  return Limits::money - held;
}

std::int64_t extra_needed(const ProblemData& data, const Schedule& schedule) {
  ProblemData free = data;
  for (Job& job : free.jobs) job.must = false;
  const Problem problem(std::move(free));
  const auto costed = cost(problem, schedule);
  std::int64_t needed = 0;
  if (const auto* broken = std::get_if<1>(&costed)) {
    for (const Violation& v : *broken) needed = std::max(needed, v.amount.minor());
  }
  return needed;
}

void forget_days(ProblemData& data) {
  for (Job& job : data.jobs) job.by.reset();
}

std::int64_t extra_for(const ProblemData& data, const Plan& plan) {
  std::int64_t needed = 0;
  Money cash = data.opening;
  for (std::size_t t = 0; t < data.stages.size(); ++t) {
    cash += data.stages[t].cash_in - plan.stages[t].spent;
    needed = std::max(needed, (data.stages[t].floor - cash).minor());
  }
  return needed;
}

Feasibility Feasible::ask(const std::vector<int>& musts, std::int64_t extra, bool any_time) {
  ProblemData changed = only_musts(data_, musts);
  changed.opening += Money::of_minor(extra);
  for (Stage& stage : changed.stages) {
    if (any_time) stage.minutes = Limits::minutes;
  }
  if (any_time) forget_days(changed);
  Reduced reduced = reduce(changed, musts);
  if (reduced.jobs.size() == changed.jobs.size()) return ask_whole(changed, musts);
  std::vector<int> own;
  for (const int must : musts) {
    own.push_back(
        static_cast<int>(std::find(reduced.jobs.begin(), reduced.jobs.end(), must) - reduced.jobs.begin()));
  }
  Feasibility found = ask_whole(reduced.data, own);
  if (found.answer == Answer::yes) {
    found.schedule = widen(reduced, changed, *found.schedule);
    return found;
  }
  if (found.answer == Answer::no) {
    // Only where money is what stands in the way the other jobs might help.
    const std::int64_t plenty = boundless(data_) - extra;
    reduced.data.opening += Money::of_minor(plenty);
    if (plenty == 0 || ask_whole(reduced.data, own).answer == Answer::no) return found;
  }
  return ask_whole(changed, musts);
}

Feasibility Feasible::ask_whole(const ProblemData& data, const std::vector<int>& musts) {
  if (contradict(data, musts)) return {Answer::no, std::nullopt};
  const Problem problem(data);
  Meter meter = meter_.part(share_);
  Attempt attempt(problem, size_, meter);
  const auto count = static_cast<std::int64_t>(musts.size());
  const Verdict verdict = attempt.reach(count);
  meter_.add(meter.steps());
  Feasibility result;
  if (verdict.best && verdict.best->rank.value >= count) {
    result = {Answer::yes, verdict.best->schedule};
  } else if (verdict.proven || verdict.bound < count) {
    result.answer = Answer::no;
  }
  return result;
}

std::vector<int> contradicting_musts(const Problem& problem, const Size& size, std::int64_t share,
                                     Meter& meter) {
  ProblemData data = problem.data();
  data.opening += Money::of_minor(boundless(data));
  for (Stage& stage : data.stages) stage.minutes = Limits::minutes;
  forget_days(data);
  Feasible feasible(data, size, share, meter);
  std::vector<int> musts = musts_of(data);
  if (musts.empty() || feasible.ask(musts).answer != Answer::no) return {};
  bool certain = true;
  return filter(std::move(musts), feasible, certain);
}

Problem with_musts(const Problem& problem, const std::vector<int>& musts) {
  ProblemData data = problem.data();
  for (Job& job : data.jobs) job.must = false;
  for (const int j : musts) data.jobs[j].must = true;
  return Problem(std::move(data));
}

Impossible explain(const Problem& problem, const Size& size, std::int64_t share, Meter& meter) {
  const ProblemData& data = problem.data();
  Feasible feasible(data, size, share, meter);
  Impossible result;
  result.musts = musts_of(data);
  result.musts = filter(result.musts, feasible, result.irreducible);
  for (int j : result.musts) {
    const int latest = problem.latest(j);
    if (result.stage < 0 || latest < result.stage) result.stage = latest;
  }
  result.hours = feasible.ask(result.musts, 0, true).answer == Answer::yes;
  const Feasibility rich = feasible.ask(result.musts, boundless(data));
  result.cash = rich.answer == Answer::yes;
  if (result.cash) result.short_by = find_shortage(data, result.musts, *rich.schedule, feasible);
  return result;
}

}  // namespace fettlefund::budgets::search
