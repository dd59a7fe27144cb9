#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "budgets/search/layers/search.hpp"
#include "budgets/search/local/trial.hpp"

namespace fettlefund::budgets::search {

/// The fixed sequence of pseudo-random numbers of Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators" (2014): the same on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  int below(int n) {
    return static_cast<int>(next() % static_cast<std::uint64_t>(n));
  }  ///< 0 to n - 1; n > 0

 private:
  std::uint64_t state_;
};

/// Betters whole plans by random changes: a unit is put into a stage (what it needs comes along, what its
/// one-of group holds goes), moved, or left out; or it takes the place of another. A change for the worse is
/// taken as long as it is within a random share of a threshold that falls to nothing ("threshold accepting",
/// Dueck and Scheuer, J. Comput. Phys. 1990). Finds plans only: it says nothing about what cannot be found.
class Improver {
 public:
  Improver(const Relaxed& relaxed, Meter& meter, std::uint64_t seed = 1);

  /// Works for about `steps` steps from `start` (or from nothing). The best plan seen that does all musts.
  std::optional<Found> improve(const Schedule* start, std::int64_t steps);

  Placing placing_of(const Schedule& schedule) const;  ///< [unit] its stage; -1: left out

 private:
  Found found(const Placing& placing) const;
  void put(Placing& placing, int unit, int stage) const;
  void leave_out(Placing& placing, int unit) const;
  Placing changed();
  Placing rebuilt();
  std::optional<std::int64_t> sieved(const Placing& placing);
  bool keeps_rules(const Placing& placing);
  bool try_placing(const Placing& placing, std::int64_t threshold);
  std::int64_t score_of(const Placing& placing, std::int64_t value) const;
  std::int64_t first_threshold() const;
  void run(std::int64_t steps);

  const Model& model_;
  Meter& meter_;
  Sieve sieve_;
  Trial trial_;
  Dice dice_;
  std::vector<std::vector<int>> dependents_;  ///< [unit] units that have it in `before`
  std::vector<std::vector<int>> members_;     ///< [one-of group] units
  std::vector<int> possible_;                 ///< units that some stage allows
  Placing now_;
  std::optional<std::int64_t> score_;  ///< of `now_`, if it keeps the rules
  std::optional<Found> best_;
};

}  // namespace fettlefund::budgets::search
