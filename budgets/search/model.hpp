#pragma once
#include <cstdint>
#include <vector>

#include "budgets/costing/basket.hpp"
#include "budgets/problem/problem.hpp"
#include "budgets/search/bits.hpp"

/// Inside of the solver; its only door is budgets/solve.hpp. The mathematics is in budgets/README.md.
namespace fettlefund::budgets::search {

/// Jobs that every plan does in one stage or leaves out together: those of a `together` group, and those
/// that require each other in other ways. The solver decides on units only.
struct Unit {
  std::vector<int> jobs;            ///< ascending
  std::vector<int> before;          ///< units done in an earlier stage or the same one; ascending
  std::vector<int> groups;          ///< one-of groups it belongs to; ascending
  std::vector<int> removals;        ///< all that are opened; ascending
  std::vector<int> tools;           ///< of its jobs (not of its removals); ascending
  std::vector<int> any_tools;       ///< sets of tools of which any will do, its removals' too; ascending
  std::vector<Need> needs;          ///< of its jobs; ascending by article, one each
  std::vector<std::int64_t> worth;  ///< one entry a stage; all that it could earn, renewals included
  std::int64_t cost = 0;            ///< minor units
  std::int64_t minutes = 0;         ///< without removals
  bool must = false;
  struct Renewed {
    int renewal = 0;                  ///< index into the problem's
    std::vector<std::int64_t> worth;  ///< the part of `worth` that it earns by this one
  };
  std::vector<Renewed> renewed;  ///< ascending
  int first = 0;                 ///< window of stages; empty (last < first) if it can never be done
  int last = -1;
};

/// Two carriers that may not be present together at the end of a stage, unless one of `adapted_by` is done.
struct Conflict {
  int a = 0;
  int b = 0;
  std::vector<int> adapted_by;  ///< units
};

/// The problem in units, ordered so that `before` points to lower indices.
class Model {
 public:
  explicit Model(const Problem& problem);

  const Problem& problem() const { return problem_; }
  const ProblemData& data() const { return problem_.data(); }
  const Buyer& buyer() const { return buyer_; }
  const std::vector<Unit>& units() const { return units_; }
  int unit_count() const { return static_cast<int>(units_.size()); }
  int stage_count() const { return problem_.stage_count(); }
  int words() const { return (unit_count() + 63) / 64; }  ///< of a set of units
  int group_count() const { return static_cast<int>(data().one_of.size()); }
  bool allowed(int unit, int stage) const { return allowed_[unit * stage_count() + stage]; }

  /// The most that may be spent up to and including each payday, minor units: opening cash and income less
  /// the floor, and no more than on any later payday. May be negative.
  const std::vector<std::int64_t>& caps() const { return caps_; }

  /// Whether musts can never be done, whatever else is done: one has no stage, two are of one one-of group,
  /// or two bring what never fits together.
  bool must_is_hopeless() const { return hopeless_; }

  /// The sets of tools of which any will do, by the numbers that units give.
  const std::vector<std::vector<int>>& any_tools() const { return any_tools_; }
  /// The tool of the set that a stage uses if nothing speaks for another: one that is free then, else the
  /// one that is usual for the set.
  int usual_tool(int set, int stage) const { return usual_[set * stage_count() + stage]; }

  /// By how much less units of one stage earn than the sum of their worth, as part of it is earned by one of
  /// them only or has been before. `renewed`: one bit a renewal, whether it has been earned; those of the
  /// units are set.
  std::int64_t earned_twice(const std::vector<int>& units, int stage, std::uint64_t* renewed) const;
  int renewal_words() const { return static_cast<int>(data().renewals.size() + 63) / 64; }

  /// Carriers that what takes them off may come before: whether they are on the machine does not follow from
  /// what is done, but from the order too. One bit each, where such bits are kept.
  int free_count() const { return static_cast<int>(free_.size()); }
  int free_words() const { return (free_count() + 63) / 64; }
  /// The bits after a stage: those before it and the units that it does.
  void change_free(std::uint64_t* here, const std::vector<int>& units) const;

  /// Whether all mates agree and no clash is open when exactly the units of `done` are done and of the free
  /// carriers those of `here` are on the machine.
  bool fits(const std::uint64_t* done, const std::uint64_t* here) const;
  /// Whether the bench time up to each day within the stage holds what is due by then. More units never help.
  bool keeps_days(const std::vector<int>& units, int stage) const { return minutes_late(units, stage) == 0; }
  bool has_days(int stage) const { return has_days_[stage] != 0; }
  /// By how much it does not, on the first such day.
  std::int64_t minutes_late(const std::vector<int>& units, int stage) const {
    return has_days_[stage] ? find_late(units, stage) : 0;
  }
  bool matters_for_fit(int unit) const { return fit_unit_[unit]; }  ///< may break it
  bool decides_fit(int unit) const { return fit_unit_[unit] || adapter_[unit]; }

 private:
  void make_units(const std::vector<int>& unit_of);
  void add_job(Unit& unit, int job);
  void add_renewals(const std::vector<int>& unit_of);
  void add_any_tools();
  void link_units(const std::vector<int>& unit_of);
  void narrow_windows();
  void find_allowed();
  bool can_be_had(const Unit& unit, int stage) const;
  void find_conflicts(const std::vector<int>& unit_of);
  void find_contradictions();
  bool sure_to_stay(int carrier) const;
  void find_free();
  void find_days();
  std::int64_t find_late(const std::vector<int>& units, int stage) const;
  bool requires_unit(int unit, int other) const;
  bool present(int carrier, const std::uint64_t* done, const std::uint64_t* here) const;

  const Problem& problem_;
  Buyer buyer_;
  std::vector<Unit> units_;
  std::vector<char> allowed_;
  std::vector<std::int64_t> caps_;
  std::vector<Conflict> conflicts_;
  std::vector<int> brought_by_;                ///< unit a carrier comes with, or -1
  std::vector<std::vector<int>> replaced_by_;  ///< units that end a carrier
  std::vector<std::vector<int>> any_tools_;
  std::vector<int> usual_;      ///< [set * stages + stage]
  std::vector<int> free_;       ///< carriers
  std::vector<int> free_at_;    ///< [carrier] its place among them, or -1
  std::vector<char> fit_unit_;  ///< [unit] brings or takes off what may not fit
  std::vector<char> adapter_;   ///< [unit] lets fit what would not
  std::vector<char> has_days_;  ///< [stage] whether some job is due within its bench time
  bool hopeless_ = false;
};

/// All lots of the article together, whenever they are there.
Quantity all_stock(const Article& article);

/// For each job the jobs that must be done in the same stage or earlier: `after`, `together` both ways, and
/// what follows from mates and clashes with carriers that nothing else takes away.
std::vector<std::vector<int>> required_jobs(const ProblemData& data);

/// Numbers the strongly connected components of a graph so that every edge i -> requires[i][*] leads to the
/// same or a lower number; among equals lower node indices come first.
std::vector<int> number_components(const std::vector<std::vector<int>>& requires_);

}  // namespace fettlefund::budgets::search
