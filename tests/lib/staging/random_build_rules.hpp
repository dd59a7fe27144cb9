#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "lib/build/model.hpp"

/// The rules of planning once more, read from the Build in the plainest way, for comparison. Shares nothing
/// with lib/planning, lib/goods or the costing of budgets but Money's text-free integers and Date.
namespace fettlefund::test {

/// The decisions: a stage (from 0) or -1 for each job, and for each article that is a tool the stage for
/// which it is bought, or -1.
struct Decisions {
  std::vector<int> stage_of, bought;
};

/// What makes one plan better than another: more value, then less money, then less time.
struct Figures {
  std::int64_t value = 0;  ///< sixtieths of a want-day, bother taken off
  std::int64_t spent = 0;  ///< minor units
  std::int64_t minutes = 0;
  bool better_than(const Figures& other) const {
    if (value != other.value) return value > other.value;
    return spent != other.spent ? spent < other.spent : minutes < other.minutes;
  }
  friend bool operator==(const Figures&, const Figures&) = default;
};

/// What a job, or a removal each time it is opened, needs: article -> amount; tools as articles, ascending.
struct PlainNeed {
  std::map<int, std::int64_t> goods;
  std::vector<int> tools;
  std::vector<std::vector<int>> any;  ///< of each of these tools one
};

class Rulebook {
 public:
  /// Understands what random_build makes: listed paydays, torques in whole "Nm", no tags, no drive train;
  /// with hours or with sessions.
  explicit Rulebook(const build::Build& build);

  /// Value and minutes of these stages, money left aside (`spent` 0); nothing where a rule but that of cash,
  /// goods or tools is broken.
  std::optional<Figures> unpaid(const std::vector<int>& stage_of) const;

  /// All figures; nothing where any rule is broken.
  std::optional<Figures> judge(const Decisions& decisions) const;

  /// The best of all decisions, by trying them all but those that cannot be better for their value; nothing
  /// where none keeps the rules.
  std::optional<Figures> best() const;

 private:
  friend class PlainShop;
  struct Day {
    budgets::Date payday, bench, last;  ///< bench time: its first day, by which goods are there, and its last
    std::map<budgets::Date, std::int64_t> evenings;  ///< where there are sessions, from `bench` on
    std::int64_t cash_in = 0, floor = 0, minutes = 0;
  };
  struct Done {
    std::vector<int> opened, tools;
    std::vector<std::vector<int>> any;  ///< of each of these tools one
    std::int64_t minutes = 0, removal_minutes = 0;
  };

  void make_days();
  void make_evenings(Day& day, budgets::Date next) const;
  bool keeps_days(const std::vector<int>& stage_of, int stage) const;
  void make_needs();
  void make_worth(const build::Job& job);
  bool shared(const build::Fitted& part) const;
  build::Id least_of(const build::Fitted& part) const;
  int want_before(const build::Job& job, const build::Id& id, budgets::Date day) const;
  std::int64_t worth_of_parts(const build::Id& id, const std::vector<int>& stage_of) const;
  int job(const build::Id& id) const;
  std::vector<int> all_open(const build::Job& job) const;
  std::vector<int> wrenches_for(const build::Torque& torque) const;
  std::vector<int> index_of_all(const std::vector<build::Id>& ids) const;
  bool chosen_well(const std::vector<int>& stage_of) const;
  bool in_order(const std::vector<int>& stage_of) const;
  bool fits(const std::vector<int>& stage_of, int stage) const;
  bool asked_before(const build::Id& one, const build::Id& other) const;
  bool gone(const std::vector<build::Id>& replaced_by, const std::vector<int>& stage_of, int stage) const;
  bool there(const build::Id& id, const std::vector<int>& stage_of, int stage) const;
  std::vector<Done> done_in(const std::vector<int>& stage_of) const;
  void try_tools(std::size_t article, Decisions& decisions, const Figures& unpaid,
                 std::optional<Figures>& best) const;

  const build::Build& build_;
  std::vector<Day> days_;
  budgets::Date end_;
  std::vector<PlainNeed> job_needs_, removal_needs_;
  std::vector<std::vector<std::int64_t>> worth_;
};

}  // namespace fettlefund::test
