#include "budgets/what_if/near.hpp"

#include <algorithm>

#include "budgets/costing/costing.hpp"
#include "budgets/search/local/soft_trial.hpp"

namespace fettlefund::budgets {
namespace {

using search::Placing;

class Changes {
 public:
  Changes(const Problem& problem, const Plan& plan)
      : model_(problem), trial_(model_), coster_(problem), plan_(plan) {
    for (int u = 0; u < model_.unit_count(); ++u) {
      placing_.push_back(plan.schedule.stage_of[model_.units()[u].jobs.front()]);
    }
  }

  std::vector<Schedule> around(int job, int stage) {
    const int unit = unit_of(job);
    Placing moved = placing_;
    put(moved, unit, stage);
    if (moved[unit] != stage) return {};  // what it requires shuts it out
    look_at(moved);
    for (int other = 0; other < model_.unit_count(); ++other) {
      if (moved[other] != placing_[other] || other == unit) continue;
      for (int t = -1; t < model_.stage_count(); ++t) {
        if (t == moved[other] || (t < 0 ? model_.units()[other].must : !model_.allowed(other, t))) continue;
        Placing next = moved;
        next[other] = t;
        look_at(next);
      }
    }
    return std::move(found_);
  }

 private:
  int unit_of(int job) const {
    int unit = 0;
    for (int u = 0; u < model_.unit_count(); ++u) {
      const auto& jobs = model_.units()[u].jobs;
      if (std::find(jobs.begin(), jobs.end(), job) != jobs.end()) unit = u;
    }
    return unit;
  }

  void put(Placing& placing, int unit, int stage) const {
    for (int other = 0; other < model_.unit_count(); ++other) {
      if (other != unit && shares_group(unit, other)) placing[other] = -1;
    }
    placing[unit] = stage;
    for (const int b : model_.units()[unit].before) {
      if (placing[b] < 0 || placing[b] > stage) put(placing, b, stage);
    }
  }

  bool shares_group(int a, int b) const {
    const auto& groups = model_.units()[b].groups;
    return std::any_of(groups.begin(), groups.end(), [&](int g) {
      const auto& own = model_.units()[a].groups;
      return std::find(own.begin(), own.end(), g) != own.end();
    });
  }

  bool is_no_dearer(const search::Rank& rank) const {
    const std::int64_t spent = plan_.spent.minor();
    return rank.spent != spent ? rank.spent < spent : rank.minutes <= plan_.minutes;
  }

  bool keeps_windows_and_order(const Placing& placing) const {
    for (int u = 0; u < model_.unit_count(); ++u) {
      if (placing[u] < 0 ? model_.units()[u].must : !model_.allowed(u, placing[u])) return false;
      const auto& before = model_.units()[u].before;
      const auto too_late = [&](int b) { return placing[b] < 0 || placing[b] > placing[u]; };
      if (placing[u] >= 0 && std::any_of(before.begin(), before.end(), too_late)) return false;
    }
    return true;
  }

  /// Whether the placing is worth it, and keeps its limits where each stage buys in the way cheapest for it.
  bool is_good(const Placing& placing) {
    trial_.reckon_units(search::plain(model_, placing));
    const search::Reckoning& found = trial_.reckon_work();
    const std::int64_t value = found.rank.value;
    if (!found.keeps_limits() || value < plan_.value) return false;
    if (!trial_.reckon_money() || !found.keeps_limits()) return false;
    return value > plan_.value || is_no_dearer(found.rank);
  }

  void look_at(const Placing& placing) {
    if (!keeps_windows_and_order(placing) || !is_good(placing)) return;
    Schedule schedule;
    schedule.stage_of.assign(model_.data().jobs.size(), -1);
    for (int u = 0; u < model_.unit_count(); ++u) {
      for (const int j : model_.units()[u].jobs) schedule.stage_of[j] = placing[u];
    }
    schedule.tool_bought = trial_.bought();
    // One-of groups are not reckoned there.
    const auto costed = coster_.cost(schedule);
    if (std::holds_alternative<Plan>(costed)) found_.push_back(std::move(schedule));
  }

  search::Model model_;
  search::SoftTrial trial_;
  Coster coster_;
  const Plan& plan_;
  Placing placing_;
  std::vector<Schedule> found_;
};

}  // namespace

std::vector<Schedule> changes_near_by(const Problem& problem, const Plan& plan, int job, int stage) {
  return Changes(problem, plan).around(job, stage);
}

}  // namespace fettlefund::budgets
