#include "lib/outcome/fewer_openings.hpp"

#include <algorithm>
#include <optional>
#include <set>

#include "lib/outcome/words.hpp"
#include "lib/staging/want.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

using budgets::Money;

constexpr std::size_t most_sentences = 3;
constexpr int most_costed = 60;  ///< plans costed in all
constexpr int most_rounds = 4;   ///< of adding what is short

/// One removal's jobs put together in one stage.
struct Merged {
  int removal = 0, stage = 0;
  std::vector<int> stages;  ///< in which it comes off in the plan
  std::vector<int> joined;  ///< those of which the jobs are put together
  std::vector<int> jobs;
  Money money;  ///< more than there is, all of it needed in `short_in`
  int short_in = -1;
  std::int64_t minutes = 0;  ///< more than the stage has
  std::int64_t saved = 0;    ///< minutes in all
  std::int64_t loss = 0;     ///< worth
};

bool better(const Merged& a, const Merged& b) {
  if (a.loss != b.loss) return a.loss < b.loss;
  if (a.money != b.money) return a.money < b.money;
  return a.minutes != b.minutes ? a.minutes < b.minutes : a.stage < b.stage;
}

class Merger {
 public:
  explicit Merger(const View& view) : view_(view) {}

  std::vector<Merged> all() {
    std::vector<Merged> found;
    const int removals = static_cast<int>(view_.build.removals.size());
    for (int r = 0; r < removals && trials_ < most_costed; ++r) {
      if (view_.removal(r).for_good) continue;
      if (const std::optional<Merged> best = best_of(r)) found.push_back(*best);
    }
    const auto own = [&](const Merged& one) {
      return view_.removal(one.removal).minutes_off + view_.removal(one.removal).minutes_on;
    };
    std::stable_sort(found.begin(), found.end(), [&](const Merged& a, const Merged& b) {
      return a.saved != b.saved ? a.saved > b.saved : own(a) > own(b);
    });
    return found;
  }

 private:
  bool opens(int job, int removal) const {
    std::vector<int> open = view_.problem.data().jobs[static_cast<std::size_t>(job)].removals;
    std::set<int> seen;
    while (!open.empty()) {
      const int next = open.back();
      open.pop_back();
      if (next == removal) return true;
      if (!seen.insert(next).second) continue;
      const auto& needs = view_.problem.data().removals[static_cast<std::size_t>(next)].needs;
      open.insert(open.end(), needs.begin(), needs.end());
    }
    return false;
  }

  std::optional<Merged> best_of(int removal) {
    std::vector<int> stages;
    for (int t = 0; t < view_.problem.stage_count(); ++t) {
      const std::vector<int>& opened = view_.cost(t).opened;
      if (std::find(opened.begin(), opened.end(), removal) != opened.end()) stages.push_back(t);
    }
    if (stages.size() < 2) return std::nullopt;
    std::optional<Merged> best;
    try_to_join(removal, stages, stages, best);
    for (std::size_t later = 1; later < stages.size() && stages.size() > 2 && !best; ++later)
      try_to_join(removal, stages, {stages[later - 1], stages[later]}, best);
    return best;
  }

  /// The best of putting the jobs of `joined` together in one of these stages.
  void try_to_join(int removal, const std::vector<int>& stages, const std::vector<int>& joined,
                   std::optional<Merged>& best) {
    Merged start;
    start.removal = removal;
    start.stages = stages;
    start.joined = joined;
    for (const int stage : joined) {
      for (const int job : view_.cost(stage).jobs) {
        if (opens(job, removal)) start.jobs.push_back(job);
      }
    }
    for (const int stage : joined) {
      const std::optional<Merged> merged = tried(start, stage);
      if (merged && (!best || better(*merged, *best))) best = merged;
    }
  }

  budgets::Schedule moved(const Merged& start, int stage) const {
    budgets::Schedule schedule = view_.plan.schedule;
    for (const int job : start.jobs) schedule.stage_of[static_cast<std::size_t>(job)] = stage;
    return schedule;
  }

  /// What is short is added until the plan stands; nothing where more than a little is.
  std::optional<Merged> tried(Merged merged, int stage) {
    merged.stage = stage;
    budgets::ProblemData data = view_.problem.data();
    budgets::Stage& at = data.stages[static_cast<std::size_t>(stage)];
    const std::int64_t limit = at.minutes;
    at.minutes += std::max<std::int64_t>(60, limit / 4);
    const budgets::Schedule schedule = moved(merged, stage);
    for (int round = 0; round < most_rounds && trials_ < most_costed; ++round) {
      ++trials_;
      const budgets::Problem problem(data);
      const auto costed = budgets::cost(problem, schedule);
      if (const auto* plan = std::get_if<budgets::Plan>(&costed)) return judged(merged, *plan, limit);
      if (!add_cash(merged, data, std::get<std::vector<budgets::Violation>>(costed))) return std::nullopt;
    }
    return std::nullopt;
  }

  /// False where it is not the cash of one stage that is short, or more than a payday brings.
  bool add_cash(Merged& merged, budgets::ProblemData& data,
                const std::vector<budgets::Violation>& broken) const {
    int stage = -1;
    Money amount;
    for (const budgets::Violation& one : broken) {
      if (one.rule != budgets::Rule::cash) return false;
      if (stage < 0 || one.stage < stage) stage = one.stage;
      amount = std::max(amount, one.amount);
    }
    if (stage < 0 || (merged.short_in >= 0 && merged.short_in != stage) || amount <= Money()) return false;
    merged.short_in = stage;
    merged.money += amount;
    data.stages[static_cast<std::size_t>(stage)].cash_in += amount;
    return merged.money <= view_.build.money.amount;
  }

  std::optional<Merged> judged(Merged merged, const budgets::Plan& plan, std::int64_t limit) const {
    const budgets::StageCost& stage = plan.stages[static_cast<std::size_t>(merged.stage)];
    merged.minutes = std::max<std::int64_t>(0, stage.job_minutes + stage.removal_minutes - limit);
    merged.saved = view_.plan.minutes - plan.minutes;
    merged.loss = std::max<std::int64_t>(0, view_.plan.value - plan.value);
    if (merged.saved <= 0 || merged.loss > view_.plan.value / 10) return std::nullopt;
    return merged;
  }

  const View& view_;
  int trials_ = 0;
};

std::string stages_text(const View& view, const std::vector<int>& stages) {
  std::vector<std::string> numbers;
  for (const int stage : stages) numbers.push_back(std::to_string(view.place_of(stage) + 1));
  return list_text(numbers);
}

std::string price_of(const View& view, const Merged& merged) {
  std::vector<std::string> parts;
  const int stage = view.place_of(merged.stage) + 1;
  if (merged.money > Money())
    parts.push_back(fmt::format("{} more in stage {}", money_text(view.build, merged.money),
                                view.place_of(merged.short_in) + 1));
  if (merged.minutes > 0)
    parts.push_back(fmt::format("{} more at the bench in stage {}", hours_text(merged.minutes), stage));
  std::string text = parts.empty() ? "" : ", needs " + list_text(parts);
  const std::int64_t days = merged.loss / worth_per_want_day;
  if (days > 0) text += fmt::format(", is worth {} want-months less", want_months_text(days));
  return text;
}

std::string sentence(const View& view, const Merged& merged) {
  const bool all = merged.joined == merged.stages;
  const std::string which = all ? "all" : "those of stages " + stages_text(view, merged.joined);
  return fmt::format("{} comes off in stages {}; {} in stage {}: {} less{}.",
                     view.removal(merged.removal).name, stages_text(view, merged.stages), which,
                     view.place_of(merged.stage) + 1, hours_text(merged.saved), price_of(view, merged));
}

}  // namespace

std::vector<std::string> fewer_openings(const View& view) {
  std::vector<std::string> sentences;
  std::set<std::vector<int>> told;  // what comes off for the same jobs is told once
  for (const Merged& merged : Merger(view).all()) {
    if (sentences.size() == most_sentences || !told.insert(merged.jobs).second) continue;
    sentences.push_back(sentence(view, merged));
  }
  return sentences;
}

}  // namespace fettlefund::planning
