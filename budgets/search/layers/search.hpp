#pragma once
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <unordered_map>
#include <vector>

#include "budgets/costing/costing.hpp"
#include "budgets/problem/plan.hpp"
#include "budgets/search/layers/expander.hpp"

namespace fettlefund::budgets::search {

/// A plan found, as decisions with the rank they must come to.
struct Found {
  Schedule schedule;
  Rank rank;
};

constexpr std::int64_t no_value = std::numeric_limits<std::int64_t>::max();

/// What a run of the layered search has shown.
struct Outcome {
  bool exhausted = false;  ///< every plan that could be better than the best has been looked at
  std::int64_t bound = 0;  ///< worth: no plan (within the money given) has more; valid in any case
};

/// For a caller to watch: called before each layer with the value of the best plan (if any), a certified
/// bound on all plans (except in runs for ties), the layer and the states expanded so far.
using Watch =
    std::function<void(const std::optional<Found>& best, std::int64_t bound, int layer, std::int64_t states)>;

/// The layered search over partial plans: exact where the width is never exceeded, else a beam with a bound.
class Search {
 public:
  Search(const Model& model, const Relaxed& relaxed, Bounder& bounder, Meter& meter, Watch watch = {});
  /// `costing`: additive only if the relaxed problem is exact. If `sure`, what is found is no plan, but no
  /// plan has more value.
  Search(const Model& model, const Relaxed& relaxed, Bounder& bounder, Meter& meter, Watch watch,
         Costing costing);

  const std::optional<Found>& best() const { return best_; }
  void offer(const Found& found);  ///< a plan known from elsewhere

  /// Looks for plans better than the best with at most `width` partial plans a layer, and at most
  /// `most_money` spent. `ties`: also for plans of the same value with less money or time.
  Outcome run(std::size_t width, std::int64_t most_money, bool ties);

  /// Where every tool has to be bought: for the first stage that uses it.
  void complete_tools(Schedule& schedule) const;

  std::int64_t states() const { return states_; }
  /// Looks only for plans of at least this value, and stops a run once one is known.
  void enough(std::int64_t value) { enough_ = value; }
  std::int64_t enough() const { return enough_; }

  /// Multipliers by stage (empty where unknown), to be handed to the search of a similar problem.
  const std::vector<std::vector<double>>& multipliers() const { return multipliers_; }
  void start_from(const std::vector<std::vector<double>>& multipliers);

 private:
  void open_layers(std::size_t width);
  Tuning tuning_for(int stage, bool fresh) const;
  void choose_multipliers(int stage);
  void rebound(int stage);
  void report(int stage);
  bool pass(int stage, std::size_t width, Layer& next, Meter& meter);
  void glance(int stage, std::size_t width, Layer& next);
  void crowd(Layer& layer, std::size_t width);
  bool expand_layer(int stage, std::size_t width);
  void finish(int stage, const Row& row, const std::vector<std::uint64_t>& words);
  std::optional<Rank> true_rank(const Schedule& schedule);
  Schedule schedule_of(int stage, const Row& row, const std::vector<std::uint64_t>& words) const;
  void note_step(Schedule& schedule, int stage, const std::uint64_t* before,
                 const std::uint64_t* after) const;
  void set_goal();
  std::size_t ways_within(std::size_t width) const;
  void drop(std::int64_t bound) { dropped_ = std::max(dropped_, bound); }

  const Model& model_;
  const Relaxed& relaxed_;
  Bounder& bounder_;
  Meter& meter_;
  Watch watch_;
  Costing costing_;
  Expander expander_;
  Coster coster_;
  std::vector<Layer> layers_;
  std::vector<std::vector<double>> multipliers_;  ///< [stage] best known
  std::optional<Found> best_;
  Goal goal_;
  bool ties_ = false;
  std::vector<char> crowded_;  ///< [stage] whether its children were more than could be kept
  std::int64_t enough_;
  std::int64_t dropped_ = 0;  ///< grid: highest bound of what was left out in this run
  std::int64_t states_ = 0;
  std::unordered_map<std::uint64_t, std::optional<Rank>> costed_;  ///< by schedule
  std::int64_t vain_ = 0;        ///< steps of this run for schedules that turned out not to be bought for
  std::int64_t most_vain_ = 0;   ///< so many steps for them
  std::int64_t run_work_ = 0;    ///< steps that the last run took
  std::int64_t layer_work_ = 0;  ///< steps that the last layer's expansion took
};

}  // namespace fettlefund::budgets::search
