#include <algorithm>

#include "budgets/costing/costing.hpp"
#include "budgets/what_if/asker.hpp"
#include "budgets/what_if/near.hpp"

/// What would move a job to an earlier stage.
namespace fettlefund::budgets {
namespace {

/// Where the plan asked about is not proven, of all solves that look for a smaller amount that is enough.
constexpr std::int64_t refining_without_proof = 1'000'000'000;

}  // namespace

/// Is some plan with the job by `stage` no worse than `target`, given so much more?
Reply Asker::reaches(More kind, int stage, std::int64_t amount, const Measure& target) {
  SolveOptions options = options_with(kind, stage, amount);
  options.placements = {{job_, 0, stage, true}};
  const Result result = solve(options);
  const Plan* plan = plan_of(result);
  if (plan != nullptr && mark_of(*plan).no_worse(target)) {
    return {Possible::yes, needed(kind, stage, *plan)};
  }
  if (std::holds_alternative<Impossible>(result)) return {Possible::no, 0};
  if (const auto* stopped = std::get_if<Stopped>(&result)) {
    return {stopped->bound < target.value ? Possible::no : Possible::unknown, 0};
  }
  const auto& best = std::get<Proven>(result);
  return {best.ties_proven || best.plan.value < target.value ? Possible::no : Possible::unknown, 0};
}

/// The mark of the best plans given so much more; nothing where it is not proven.
std::optional<Measure> Asker::best_with(More kind, int stage, std::int64_t amount) {
  if (kind == More::cash) {
    if (const auto known = best_with_cash_.find(amount); known != best_with_cash_.end()) return known->second;
  }
  const Result result = solve(options_with(kind, stage, amount));
  std::optional<Measure> mark;
  const auto* best = std::get_if<Proven>(&result);
  if (best != nullptr && best->ties_proven) mark = mark_of(best->plan);
  if (kind == More::cash) best_with_cash_[amount] = mark;
  return mark;
}

/// First what is cheap to know for every stage, then the rest, nearest stage first, while steps last.
void Asker::find_least_extras(std::vector<AtStage>& stages) {
  const Least* before = nullptr;
  for (AtStage& at : stages) {
    at.cash.as_good.at_most = near_by(More::cash, at.stage);
    at.minutes.as_good.at_most = near_by(More::minutes, at.stage);
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
      move_by(stages[i].cash, More::cash, stages[i].stage);
    }
    move_by(stages[i].minutes, More::minutes, stages[i].stage);
  }
}

/// Enough where at most one other job moves besides, if that is so.
std::optional<std::int64_t> Asker::near_by(More kind, int stage) const {
  ProblemData plenty = data_;
  if (kind == More::cash) {
    plenty.opening += Money::of_minor(unlimited(kind));
  } else {
    plenty.stages[stage].minutes += unlimited(kind);
  }
  const Problem rich(std::move(plenty));
  const Coster coster(rich);
  std::optional<std::int64_t> least;
  for (const Schedule& schedule : changes_near_by(rich, plan_, job_, stage)) {
    const std::int64_t amount = needed(kind, stage, *coster.plan(schedule));
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

void Asker::move_by(LeastExtra& extra, More kind, int stage) {
  const auto ask_for = [&](const Measure& target) {
    return [this, kind, stage, target](std::int64_t amount) { return reaches(kind, stage, amount, target); };
  };
  Measure target = mark_of(plan_);
  extra.as_good = least_enough(ask_for(target), extra.as_good, unlimited(kind));
  extra.best = {extra.as_good.at_least, {}, extra.as_good.never};
  if (!proven_) return;
  // With the least that makes one as good, better plans without it may be possible: these set the next mark.
  Least least = extra.as_good;
  while (least.exact()) {
    const auto best = best_with(kind, stage, least.at_least);
    extra.best = {least.at_least, {}, false};
    if (!best) return;
    if (*best == target || reaches(kind, stage, least.at_least, *best).is == Possible::yes) {
      extra.best.at_most = least.at_least;
      return;
    }
    target = *best;
    least = least_enough(ask_for(target), {least.at_least, {}, false}, unlimited(kind));
  }
  extra.best = {least.at_least, {}, least.never};
}

}  // namespace fettlefund::budgets
