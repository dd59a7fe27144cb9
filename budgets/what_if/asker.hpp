#pragma once
#include <algorithm>
#include <map>
#include <optional>
#include <vector>

#include "budgets/what_if/holds.hpp"
#include "budgets/what_if/least.hpp"
#include "budgets/what_if/what_if.hpp"

/// What answers `why`.
namespace fettlefund::budgets {

/// What a plan is compared by.
struct Measure {
  std::int64_t value = 0, spent = 0, minutes = 0;
  bool operator==(const Measure&) const = default;
  bool no_worse(const Measure& other) const {
    if (value != other.value) return value > other.value;
    return spent != other.spent ? spent < other.spent : minutes <= other.minutes;
  }
};
inline Measure mark_of(const Plan& plan) { return {plan.value, plan.spent.minor(), plan.minutes}; }

/// What there may be more of.
enum class More { cash, minutes };

/// Asks about one job: stage by stage whether it can be there, then what would move it there.
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
    find_least_extras(why.stages);
    why.steps = purse_.used;
    return why;
  }

 private:
  void look_at(AtStage& at);
  void find_plan(AtStage& at, const Schedule& any);
  SolveOptions from_stage_on(int stage) const;
  void find_short_stage(AtStage& at);
  Least allowing(const AtStage& at, More kind);
  std::optional<std::int64_t> near_by(More kind, int stage) const;
  void find_least_extras(std::vector<AtStage>& stages);
  bool no_cash_allows(const std::vector<AtStage>& stages, std::size_t at) const;
  std::int64_t too_little_cash(const std::vector<AtStage>& stages, std::size_t at) const;
  void move_by(LeastExtra& extra, More kind, int stage);
  std::int64_t unlimited(More kind) const;
  std::int64_t needed(More kind, int stage, const Schedule& schedule) const;
  std::int64_t needed(More kind, int stage, const Plan& plan) const;
  SolveOptions options_with(More kind, int stage, std::int64_t amount) const;
  Result solve(const SolveOptions& options);
  Reply reaches(More kind, int stage, std::int64_t amount, const Measure& target);
  std::optional<Measure> best_with(More kind, int stage, std::int64_t amount);

  Solver& solver_;
  const ProblemData& data_;
  const Plan& plan_;
  bool proven_;
  int job_;
  const WhyOptions& options_;
  Purse purse_;
  std::map<std::int64_t, std::optional<Measure>> best_with_cash_;
};

}  // namespace fettlefund::budgets
