#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "budgets/search/local/descents.hpp"

namespace fettlefund::budgets::search {

/// What an attempt came to. Without `best` and with `proven` there is no plan at all.
struct Verdict {
  std::optional<Found> best;
  bool proven = false;       ///< no plan has more value than the best
  bool ties_proven = false;  ///< nor less money or time at that value
  std::int64_t bound = 0;    ///< worth: no plan has more
};

/// How large the parts of a search may grow. The same on every machine.
struct Size {
  std::int32_t patterns = 200'000;  ///< sets of units listed for the bound
  std::size_t width = 300'000;      ///< partial plans a layer
  bool sure_costs = false;          ///< bounds by these, with the steps that descents leave
};

/// Solves one problem by runs of growing width.
class Attempt {
 public:
  Attempt(const Problem& problem, const Size& size, Meter& meter, Watch watch = {});

  Search& search() { return search_; }
  bool shops() const { return !relaxed_.exact; }  ///< goods have to be shopped for to know what a plan costs

  /// Asked for a plan where the first run and annealing found none.
  using Rescue = std::function<std::optional<Found>()>;
  void on_no_plan(Rescue rescue) { rescue_ = std::move(rescue); }

  /// As far as the meter lets it. `bound`: worth; no plan is known to have more, so that where the best known
  /// plan has as much only less money and time are looked for. `brief`: for those no run is begun behind half
  /// of the steps, since more effort comes.
  Verdict optimise(std::int64_t bound = no_value, bool brief = false);
  Verdict reach(std::int64_t value);  ///< only whether some plan has at least this value

 private:
  std::size_t room_for_rows() const;
  void run_value(Verdict& verdict);
  void bound_by_sure_costs(Verdict& verdict);
  void better_plan(std::int64_t steps);
  void anneal(std::int64_t at_most);
  void better_relaxed_plan(std::int64_t steps);
  Placing best_placing() const;
  const std::vector<double>& rates(std::int64_t steps);
  void rebuild_plan(std::int64_t steps);
  void offer_stages(const std::vector<int>& stage_of);
  void offer_schedule(const Schedule& schedule);
  void use_rest(Verdict& verdict);
  std::int64_t first_improvement() const;
  std::int64_t between_runs() const;
  void run_ties(Verdict& verdict, bool brief);

  Size size_;
  Meter& meter_;
  Model model_;
  Relaxed relaxed_;
  Bounder bounder_;
  Watch watch_;
  Search search_;
  Descents descents_;
  Coster coster_;
  Rescue rescue_;
  std::int64_t descent_steps_ = 0;  ///< that are left for descents
  std::size_t sure_width_;          ///< of the next run by sure costs
  bool sure_is_known_ = false;  ///< what can be reached by sure costs has been found, or is not looked for
  std::uint64_t rounds_ = 0;  ///< of descents and of better_relaxed_plan and use_rest: seeds of their changes
  std::vector<double> rates_;     ///< [unit] how promising each is; empty until asked for
  std::int64_t rates_steps_ = 0;  ///< that these were allowed to take
};

}  // namespace fettlefund::budgets::search
