#pragma once
#include <atomic>
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/solve.hpp"

/// What holds a job where a plan has it, and what would move it: follow-up questions to a solver.
namespace fettlefund::budgets {

/// The rules that can hold a job back, in the order in which they are tried. Lifting one means:
enum class Hold {
  dates,     ///< jobs have neither first nor last stages
  cash,      ///< opening cash without end
  hours,     ///< bench time without end
  order,     ///< `after` and `together` do not count
  delivery,  ///< every offer stands on every payday and arrives at once, stock on its way is there, and what
             ///< nobody offers is to hand
  mates,     ///< mates need not agree
  clashes,   ///< clashing things go together
  tools,     ///< every tool is to hand
  choices,   ///< one-of groups do not count
  musts      ///< no other job has to be done
};
inline constexpr int hold_count = 10;

/// The problem with these rules lifted, `musts` apart: that one is for the question to leave out.
ProblemData lifted(ProblemData data, const std::vector<Hold>& holds);

/// The job and all that every plan with it does in the same stage or earlier, ascending: by `after`,
/// `together`, and by mates and clashes that leave no choice.
std::vector<int> jobs_with(const ProblemData& data, int job);

enum class Possible { yes, no, unknown };  ///< unknown: effort ran out

/// The least whole amount that is enough for something.
struct Least {
  std::int64_t at_least = 0;            ///< less is proven not to be enough
  std::optional<std::int64_t> at_most;  ///< so much is enough; nothing: not known of any amount
  bool never = false;                   ///< proven: no amount is enough
  bool exact() const { return at_most && *at_most == at_least; }
};

/// What one kind of extra (cash at the start in minor units, or minutes in the stage asked about) would do.
struct LeastExtra {
  Least allows;   ///< makes it possible to have the job in that very stage
  Least as_good;  ///< with it some plan has the job in that stage or an earlier one, and is at least as good
                  ///< (value, money, time) as the plan that was asked about
  Least best;     ///< with it some *best* plan has the job in that stage or an earlier one; never less than
                  ///< `as_good`, and known only where plans are proven best
};

/// A job in one stage, all rules kept.
struct AtStage {
  int stage = 0;
  Possible possible = Possible::unknown;
  /// If not possible. The first rule in order which, lifted alone, makes it possible; where none does, a
  /// smallest set of rules that do together.
  std::vector<Hold> holds;
  std::vector<Hold> others;  ///< if `holds` is one: the other rules that, lifted alone, do so too
  bool holds_proven = true;  ///< false: a question was left open, so an earlier or smaller answer may be
  std::optional<Schedule> without;  ///< keeps all other rules with the job there
  int in_the_way = -1;   ///< the first must that, not demanded, makes it possible; -1: none does alone
  int short_stage = -1;  ///< where cash alone does: the first payday that leaves no more than the floor when
                         ///< the least extra cash is there
  /// If possible.
  std::optional<Plan> plan;  ///< the best found with the job in that stage
  std::int64_t bound = 0;    ///< no such plan has more value
  /// Either way.
  LeastExtra cash, minutes;
};

struct WhyOptions {
  Effort effort = Effort::quick;  ///< of each follow-up solve
  const std::atomic<bool>* stop = nullptr;
  int first = 0;                       ///< the stages asked about, both included
  int last = -1;                       ///< -1: up to the one before the job's own; all if it is left out
  std::int64_t steps = 8'000'000'000;  ///< of all questions; when they are used up, answers stay open
};

struct Why {
  std::vector<AtStage> stages;  ///< ascending
  std::int64_t steps = 0;       ///< used
};

/// Asks about `job`, which `plan` of the solver's problem has in a later stage than those asked about, or
/// leaves out. `proven`: no plan is better than `plan`, by value, money and time.
Why why(Solver& solver, const Plan& plan, bool proven, int job, const WhyOptions& options = {});

}  // namespace fettlefund::budgets
