#pragma once
#include <atomic>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string_view>
#include <variant>
#include <vector>

#include "budgets/problem/plan.hpp"

namespace fettlefund::budgets {

/// How long to look, in steps of the search and never in seconds, so that the same input gives the same plan
/// on any machine. What a step is, and about how long each level takes, is stated in budgets/README.md.
enum class Effort { quick, normal, thorough };
std::optional<Effort> find_effort(std::string_view name);  ///< "quick", "normal", "thorough"

/// The work a solve has done.
struct Work {
  std::int64_t steps = 0;   ///< units of effort used
  std::int64_t states = 0;  ///< states expanded by the layered search
};

/// One line of progress. `bound` is a certified upper limit on the value of any plan.
struct Progress {
  std::optional<std::int64_t> value;  ///< of the best plan so far
  std::int64_t bound = 0;
  int layer = 0;  ///< stage the search stands at
  Work work;
};

/// A wish for one job in a follow-up question: within its own window, only in these stages.
struct Placement {
  int job = 0;
  int first = 0;
  int last = -1;      ///< -1: the last stage; before `first`: the job is left out
  bool must = false;  ///< and it has to be done
};

struct SolveOptions {
  Effort effort = Effort::normal;
  std::function<void(const Progress&)>
      on_progress;                          ///< called now and then from the calling thread; may be empty
  const std::atomic<bool>* stop = nullptr;  ///< set to true (from anywhere) to stop early
  std::vector<Placement> placements;        ///< at most one a job
  Money extra_cash;                         ///< added to the opening cash; may be negative
  std::vector<Money> extra_income;          ///< added to what comes in for each stage; empty: nothing
  std::vector<std::int64_t> extra_minutes;  ///< >= 0, added to each stage's bench time; empty: nothing
  std::vector<Schedule> known;              ///< tried first, where they keep all rules
  std::optional<std::int64_t> steps;        ///< fewer than the effort has
  bool explain = true;                      ///< false: an Impossible says nothing more
  bool until_a_plan = false;                ///< where quick effort ends without a plan, goes on at normal
};

/// A plan that no plan can beat in value.
struct Proven {
  Plan plan;
  Work work;
  bool ties_proven = true;  ///< and no plan of this value has less money, nor as much money and less time
};

/// Demands that cannot be met together. Without any musts: the problem allows no plan at all, not even an
/// empty one (bills that the cash cannot meet, or things on the machine that do not fit at the start).
struct Impossible {
  std::vector<int> musts;         ///< jobs that must be done, ascending
  bool cash = false;              ///< with unlimited cash these musts could be met
  bool hours = false;             ///< with unlimited bench time these musts could be met
  std::optional<Money> short_by;  ///< if `cash`: the least extra opening cash that would let these musts be
                                  ///< met; nothing if effort ran out first
  int stage = -1;                 ///< the stage by which the tightest of these musts has to be done
  Work work;
  bool irreducible = true;  ///< any one of `musts` left out, the rest can be met; false: effort ran out first
};

/// Effort ran out, or the search was told to stop.
struct Stopped {
  std::optional<Plan> plan;  ///< the best found; verified
  std::int64_t bound = 0;    ///< no plan has more value
  Work work;
};

using Result = std::variant<Proven, Impossible, Stopped>;

/// The plan of a result, in the result; null where it has none.
const Plan* plan_of(const Result& result);

/// Solves one problem again and again under small changes. What was learnt stays: multipliers of the bound,
/// and plans, which are the first to be tried. The same sequence of calls gives the same results.
class Solver {
 public:
  explicit Solver(Problem problem);
  ~Solver();
  Solver(Solver&&) noexcept;
  Solver& operator=(Solver&&) noexcept;

  const Problem& problem() const;  ///< as given; plans of a solve with extra cash are costed with that cash

  /// Every plan returned has passed `verify` for the problem as changed by the options; one that does not is
  /// std::logic_error. Throws std::invalid_argument for a placement of no job, for extras that are not
  /// one a stage, or as Problem does.
  Result solve(const SolveOptions& options = {});

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// The one door to the solver: Solver for a single question.
Result solve(const Problem& problem, const SolveOptions& options = {});

}  // namespace fettlefund::budgets
