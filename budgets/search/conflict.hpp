#pragma once
#include <optional>
#include <vector>

#include "budgets/search/attempt.hpp"
#include "budgets/solve.hpp"

namespace fettlefund::budgets::search {

enum class Answer { yes, no, unknown };

/// Whether some musts can be met, and how.
struct Feasibility {
  Answer answer = Answer::unknown;
  std::optional<Schedule> schedule;  ///< if yes
};

/// Asks whether sets of musts can be met, by searching for a plan that does as many of them as it can.
class Feasible {
 public:
  /// Every question may take `share` steps, all together what `meter` has left.
  Feasible(const ProblemData& data, const Size& size, std::int64_t share, Meter& meter)
      : data_(data), size_(size), share_(share), meter_(meter) {}

  /// With `extra` opening cash (minor units), and with bench time without end if so said.
  /// Jobs that cannot matter are left out first (see `reduce`).
  Feasibility ask(const std::vector<int>& musts, std::int64_t extra = 0, bool any_time = false);

 private:
  Feasibility ask_whole(const ProblemData& data, const std::vector<int>& musts);

  const ProblemData& data_;
  Size size_;
  std::int64_t share_;
  Meter& meter_;
};

/// As much opening cash, in minor units, as a problem may have on top of its own: no plan can spend it.
std::int64_t boundless(const ProblemData& data);

/// The least extra opening cash, in minor units, with which a schedule can be bought that breaks no rule but
/// cash and musts: in whatever way.
std::int64_t extra_needed(const ProblemData& data, const Schedule& schedule);

/// Lets every job be done on any day of its stage's bench time.
void forget_days(ProblemData& data);

/// For questions that have to be answered at once.
inline constexpr Size little{20'000, 10'000};
inline constexpr std::int64_t little_steps = 50'000'000;

/// Musts that cannot all be done whatever money and bench time there are, as few as can be told; empty: they
/// can, or the steps did not suffice to tell.
std::vector<int> contradicting_musts(const Problem& problem, const Size& size, std::int64_t share,
                                     Meter& meter);

/// The same problem with no other musts than these.
Problem with_musts(const Problem& problem, const std::vector<int>& musts);

/// The extra opening cash, in minor units, that a plan needs as it is bought.
std::int64_t extra_for(const ProblemData& data, const Plan& plan);

/// Explains why the musts of `problem` cannot be met. To be called only when that is proven.
Impossible explain(const Problem& problem, const Size& size, std::int64_t share, Meter& meter);

}  // namespace fettlefund::budgets::search
