#pragma once
#include <atomic>
#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>
#include <variant>
#include <vector>

#include "budgets/plan.hpp"

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

struct SolveOptions {
  Effort effort = Effort::normal;
  std::function<void(const Progress&)>
      on_progress;                          ///< called now and then from the calling thread; may be empty
  const std::atomic<bool>* stop = nullptr;  ///< set to true (from anywhere) to stop early
};

/// A plan that no plan can beat in value; among plans of this value it has the least money, then the least
/// time.
struct Proven {
  Plan plan;
  Work work;
};

/// Demands that cannot be met together, none of which can be left out (irreducible).
struct Impossible {
  std::vector<int> musts;  ///< jobs that must be done
  bool cash = false;       ///< with unlimited cash these musts could be met
  bool hours = false;      ///< with unlimited bench time these musts could be met
  std::optional<Money>
      short_by;    ///< if `cash`: the least extra opening cash that would let these musts be met
  int stage = -1;  ///< the stage by which the tightest of these musts has to be done
  Work work;
};

/// Effort ran out, or the search was told to stop.
struct Stopped {
  std::optional<Plan> plan;  ///< the best found; verified
  std::int64_t bound = 0;    ///< no plan has more value
  Work work;
};

using Result = std::variant<Proven, Impossible, Stopped>;

/// The one door to the solver. Every plan returned has passed `verify`; one that does not is
/// std::logic_error.
Result solve(const Problem& problem, const SolveOptions& options = {});

}  // namespace fettlefund::budgets
