#include <algorithm>
#include <optional>
#include <set>
#include <stdexcept>
#include <utility>

#include "budgets/costing/costing.hpp"
#include "budgets/problem/tools.hpp"
#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"
#include "lib/staging/choices.hpp"
#include "lib/staging/fit.hpp"

namespace fettlefund::planning {
namespace {

constexpr int most_schedules = 4000;   ///< schedules costed for reasons; keeps big builds quick
constexpr std::size_t most_short = 3;  ///< stages for which it is worked out how much cash a job lacks there

/// The most telling of what stopped a job's trials in the stages of its window.
struct Trials {
  bool fits_for_nothing = false;  ///< it fits somewhere, and no value is gained
  bool fits_and_gains = false;    ///< only where the search was stopped early
  std::optional<Money> least_short;
  int cash_stage = -1;
  bool hours = false, fit = false, goods = false;
  std::optional<Misfit> misfit;
};

class Reasons {
 public:
  Reasons(const View& view, bool proven)
      : view_(view), data_(view.problem.data()), proven_(proven), coster_(view.problem) {}

  std::string tell(int j) {
    for (const auto reason : {&Reasons::no_window, &Reasons::other_of_group, &Reasons::after_left_out,
                              &Reasons::no_worth, &Reasons::never_affordable}) {
      if (std::string text = (this->*reason)(j); !text.empty()) return text;
    }
    return tried(j);
  }

 private:
  const budgets::Job& data(int j) const { return data_.jobs[static_cast<std::size_t>(j)]; }
  std::string money(Money amount) const { return money_text(view_.build, amount); }

  std::string no_window(int j) {
    if (data(j).earliest <= view_.problem.latest(j)) return {};
    return "it may not be done before " + budgets::write_date(*view_.job(j).not_before) +
           ", after the last bench date";
  }

  std::string other_of_group(int j) {
    for (const std::vector<int>& group : data_.one_of) {
      if (std::find(group.begin(), group.end(), j) == group.end()) continue;
      for (const int other : group) {
        if (view_.stage_of(other) >= 0) {
          return view_.job(other).name + " is done instead: at most one of '" + view_.job(j).one_of + "'";
        }
      }
    }
    return {};
  }

  std::string after_left_out(int j) {
    for (const int before : data(j).after) {
      if (view_.stage_of(before) < 0) {
        return "it comes after " + view_.job(before).name + ", which is left out";
      }
    }
    return {};
  }

  std::vector<int> unit(int j) const {
    for (const std::vector<int>& group : data_.together) {
      if (std::find(group.begin(), group.end(), j) != group.end()) return group;
    }
    return {j};
  }

  static bool any_above_zero(const std::vector<std::int64_t>& worth) {
    return std::any_of(worth.begin(), worth.end(), [](std::int64_t one) { return one > 0; });
  }

  /// The job of the plan that renews first what the job could renew too: -1 where none does, nothing where it
  /// renews nothing that is due.
  std::optional<int> renewed_instead(int j) const {
    std::optional<int> instead;
    for (const budgets::Renewal& renewal : data_.renewals) {
      const auto at = std::find(renewal.jobs.begin(), renewal.jobs.end(), j);
      if (at == renewal.jobs.end()) continue;
      if (!any_above_zero(renewal.worth[static_cast<std::size_t>(at - renewal.jobs.begin())])) continue;
      const auto done = std::find_if(renewal.jobs.begin(), renewal.jobs.end(),
                                     [&](int other) { return view_.stage_of(other) >= 0; });
      if (done == renewal.jobs.end()) return -1;
      instead = *done;
    }
    return instead;
  }

  std::string no_worth(int j) {
    std::optional<int> instead;
    for (const int member : unit(j)) {
      if (any_above_zero(data(member).worth)) return {};
      const std::optional<int> other = renewed_instead(member);
      if (other == -1) return {};
      if (other) instead = other;
    }
    if (instead) return "nothing is gained by it: " + view_.job(*instead).name + " renews the same";
    return "nothing is gained by it: its want is 0";
  }

  std::string never_affordable(int j) {
    const Money least = least_cost(view_.problem, unit(j));
    const Money most = most_to_spend(data_, view_.problem.latest(j));
    if (least <= most) return {};
    return "it costs at least " + money(least) + " with what it opens; at most " +
           money(std::max(most, Money())) + " can ever be spent on it in time";
  }

  /// The plan's schedule with the jobs put into a stage; tools that can only be bought are bought for it.
  budgets::Schedule with(const std::vector<int>& jobs, int stage) const {
    budgets::Schedule schedule = view_.plan.schedule;
    std::set<int> opened;
    for (const int j : jobs) {
      schedule.stage_of[static_cast<std::size_t>(j)] = stage;
      opened.insert(view_.problem.opened_by(j).begin(), view_.problem.opened_by(j).end());
    }
    const std::vector<int> removals(opened.begin(), opened.end());
    for (const int k : budgets::tools_used(data_, schedule, jobs, removals, stage)) {
      const budgets::Tool& tool = data_.tools[static_cast<std::size_t>(k)];
      int& bought = schedule.tool_bought[static_cast<std::size_t>(k)];
      const bool free = !tool.free.empty() && tool.free[static_cast<std::size_t>(stage)];
      const bool had = free || tool.hire || (bought >= 0 && bought <= stage);
      if (!had && !tool.offers.empty()) bought = stage;
    }
    return schedule;
  }

  void note(Trials& trials, int stage, const std::vector<budgets::Violation>& broken) const {
    Money short_by;
    bool cash = false, hours = false, fit = false, goods = false;
    for (const budgets::Violation& one : broken) {
      cash |= one.rule == budgets::Rule::cash;
      hours |= one.rule == budgets::Rule::hours;
      fit |= one.rule == budgets::Rule::mate || one.rule == budgets::Rule::clash;
      goods |= one.rule == budgets::Rule::goods || one.rule == budgets::Rule::tool;
      short_by = std::max(short_by, one.amount);
    }
    if (cash && !hours && !fit && !goods && (!trials.least_short || short_by < *trials.least_short)) {
      trials.least_short = short_by;
      trials.cash_stage = stage;
    }
    trials.hours |= hours && !fit && !goods;
    trials.fit |= fit;
    trials.goods |= goods;
  }

  Trials try_stages(const std::vector<int>& jobs) {
    Trials trials;
    for (const int t : stages_to_try(jobs)) {
      if (trials_left_ <= 0) break;
      --trials_left_;
      const auto result = coster_.cost(with(jobs, t));
      if (const auto* plan = std::get_if<budgets::Plan>(&result)) {
        (plan->value > view_.plan.value ? trials.fits_and_gains : trials.fits_for_nothing) = true;
      } else {
        note(trials, t, std::get<1>(result));
        if (trials.fit && !trials.misfit) trials.misfit = misfit_with(jobs, t);
      }
    }
    return trials;
  }

  /// The stages that allow the jobs, ascending; of those in which only cash seems to be lacking only the few
  /// in which it is least.
  std::vector<int> stages_to_try(const std::vector<int>& jobs) const {
    std::vector<int> stages;
    std::vector<std::pair<Money, int>> short_in;
    for (int t = 0; t < view_.problem.stage_count(); ++t) {
      const bool allowed = std::all_of(jobs.begin(), jobs.end(), [&](int j) {
        return t >= data(j).earliest && t <= view_.problem.latest(j) && comes_after(j, t);
      });
      if (!allowed) continue;
      const std::optional<Money> lack = cash_lacking(with(jobs, t));
      if (lack) {
        short_in.emplace_back(*lack, t);
      } else {
        stages.push_back(t);
      }
    }
    std::sort(short_in.begin(), short_in.end());
    for (std::size_t i = 0; i < std::min(short_in.size(), most_short); ++i)
      stages.push_back(short_in[i].second);
    std::sort(stages.begin(), stages.end());
    return stages;
  }

  /// At a glance; nothing where the schedule stands, or breaks another rule too.
  std::optional<Money> cash_lacking(const budgets::Schedule& schedule) const {
    const auto result = coster_.glance(schedule);
    const auto* broken = std::get_if<1>(&result);
    if (broken == nullptr) return std::nullopt;
    Money most;
    for (const budgets::Violation& one : *broken) {
      if (one.rule != budgets::Rule::cash) return std::nullopt;
      most = std::max(most, one.amount);
    }
    return most;
  }

  /// Where a job of one stage does not fit what a later stage brings, the later stages show it.
  std::optional<Misfit> misfit_with(const std::vector<int>& jobs, int stage) {
    if (!fit_) fit_.emplace(view_.build);
    const budgets::Schedule schedule = with(jobs, stage);
    for (int t = stage; t < view_.problem.stage_count(); ++t) {
      if (auto misfit = fit_->first_misfit(schedule, t)) return misfit;
    }
    return std::nullopt;
  }

  bool comes_after(int j, int stage) const {
    const auto& after = data(j).after;
    return std::all_of(after.begin(), after.end(),
                       [&](int before) { return view_.stage_of(before) <= stage; });
  }

  std::string tried(int j) {
    if (trials_left_ <= 0) return in_general();
    const Trials trials = try_stages(unit(j));
    if (trials.fits_and_gains && proven_) {
      throw std::logic_error("job '" + view_.job(j).id +
                             "' would better a plan that is said to be proven best");
    }
    if (trials.fits_and_gains) return "the search was stopped before it had found the best place for it";
    if (trials.fits_for_nothing) return "it could be fitted in, but taking off and putting back outweighs it";
    if (trials.least_short) {
      return "with the rest of the plan as it is, money would be short by " + money(*trials.least_short) +
             ", the least found, with it in " +
             stage_text(view_.place_of(trials.cash_stage), view_.stage(trials.cash_stage).bench);
    }
    if (trials.hours) return no_hours(j);
    if (trials.misfit) {
      const std::string why = fit_->why(*trials.misfit);
      return "with it, " + fit_->words(*trials.misfit) + " would be on the machine together" +
             (why.empty() ? "" : ": " + why);
    }
    if (trials.fit) return "it does not fit together with what is on the machine in the plan";
    if (trials.goods) return "something it needs cannot arrive in time";
    return in_general();
  }

  std::string no_hours(int j) const {
    const std::int64_t least = least_minutes(view_.problem, unit(j));
    std::int64_t most = 0;
    for (int t = data(j).earliest; t <= view_.problem.latest(j); ++t)
      most = std::max(most, view_.stage(t).minutes);
    return "it takes " + hours_text(least) + " with what it opens, and " +
           (least > most ? "a stage it may be done in has at most " + hours_text(most)
                         : "no stage it may be done in has the hours left for it");
  }

  std::string in_general() const {
    return proven_ ? "the plan's other jobs are worth more for the money and hours"
                   : "the search found no better plan with it";
  }

  const View& view_;
  const budgets::ProblemData& data_;
  bool proven_;
  budgets::Coster coster_;
  int trials_left_ = most_schedules;
  std::optional<Fit> fit_;
};

}  // namespace

std::vector<LeftOut> left_out_of(const View& view, bool proven) {
  Reasons reasons(view, proven);
  std::vector<LeftOut> left;
  for (int j = 0; j < view.problem.job_count(); ++j) {
    if (view.stage_of(j) < 0) left.push_back({view.job(j).id, view.job(j).name, reasons.tell(j)});
  }
  return left;
}

}  // namespace fettlefund::planning
