#include "lib/questions/conflict.hpp"

#include <algorithm>

#include "budgets/what_if/least.hpp"
#include "lib/outcome/must_reasons.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"
#include "lib/staging/fit.hpp"

namespace fettlefund::planning {
namespace {

constexpr std::int64_t steps_for_a_date = 100'000'000;  ///< to find any plan with a later date

class ConflictTeller {
 public:
  ConflictTeller(const build::Build& build, const budgets::Problem& problem,
                 const budgets::Impossible& impossible, const budgets::SolveOptions& options)
      : build_(build), problem_(problem), data_(problem.data()), impossible_(impossible), options_(options) {}

  Conflict tell() {
    if (impossible_.musts.empty()) {
      tell_without_jobs();
      return std::move(conflict_);
    }
    for (const int j : impossible_.musts) conflict_.jobs.push_back(job(j).id);
    demanded_ = with_what_they_ask(data_, impossible_.musts);
    last_ = impossible_.stage >= 0 ? impossible_.stage : problem_.stage_count() - 1;
    say(which());
    const std::vector<std::string> contradictions = must_reasons(build_, problem_, demanded_);
    for (const std::string& sentence : contradictions) say(sentence);
    const std::vector<std::string> misfits = fit_reasons(build_, problem_, demanded_, last_);
    for (const std::string& sentence : misfits) say(sentence);
    cause_told_ = !misfits.empty() || !contradictions.empty();
    say_money();
    say_hours();
    say_release();
    return std::move(conflict_);
  }

 private:
  const build::Job& job(int j) const { return build_.jobs[static_cast<std::size_t>(j)]; }
  const budgets::Stage& stage(int t) const { return data_.stages[static_cast<std::size_t>(t)]; }
  std::string money(Money amount) const { return money_text(build_, amount); }
  bool single() const { return impossible_.musts.size() == 1; }
  void say(const std::string& sentence) { conflict_.sentences.push_back(sentence); }

  std::string which() const {
    std::vector<std::string> items;
    for (const int j : impossible_.musts) {
      const auto& by = job(j).by;
      items.push_back(job(j).name + (by ? " (by " + budgets::write_date(*by) + ")" : ""));
    }
    return (single() ? "This has to be done and cannot be: " : "These have to be done and cannot all be: ") +
           list_text(items) + ".";
  }

  std::string up_to() const {
    return "up to " + stage_text(build_.money.stages_over + last_, stage(last_).bench);
  }

  void say_money() {
    if (!impossible_.cash) return;
    const Money least = least_cost(problem_, demanded_);
    const Money most = std::max(Money(), most_to_spend(data_, last_));
    std::string what = single() ? "It costs at least " : "Together they cost at least ";
    say(what + money(least) + " with what has to come off or be done first, delivery not counted; at most " +
        money(most) + " can be spent " + up_to() + ".");
    if (!impossible_.short_by) return;
    const bool adds_up = least - most == *impossible_.short_by;
    if (!adds_up) say_hurry(least - most);
    say("The money is short by " + money(*impossible_.short_by) +
        (adds_up || !any_delivery() ? "." : ", delivery counted."));
  }

  bool any_delivery() const {
    return std::any_of(data_.suppliers.begin(), data_.suppliers.end(),
                       [](const budgets::Supplier& one) { return one.delivery > Money(); });
  }

  /// The payday that has to pay for what takes long to arrive, where that asks for more than `told`.
  void say_hurry(Money told) {
    Hurried worst;
    int payday = -1;
    for (int t = 0; t < last_; ++t) {
      Hurried here = hurried(problem_, demanded_, last_, t);
      const Money most = std::max(Money(), most_to_spend(data_, t));
      if (here.articles.empty() || here.least - most <= told) continue;
      told = here.least - most;
      payday = t;
      worst = std::move(here);
    }
    if (payday < 0) return;
    const Staging staging = to_staging(build_);
    std::vector<std::string> names;
    for (const int a : worst.articles) {
      const int article = staging.article_of[static_cast<std::size_t>(a)];
      names.push_back(build_.articles[static_cast<std::size_t>(article)].name);
    }
    say(list_text(names) + (names.size() == 1 ? " has" : " have") + " to be ordered by the payday of " +
        budgets::write_date(stage(payday).payday) + " (stage " +
        std::to_string(build_.money.stages_over + payday + 1) + ") to be there in time, for at least " +
        money(worst.least) + "; at most " + money(std::max(Money(), most_to_spend(data_, payday))) +
        " can be spent up to then.");
  }

  /// The first day that lies within the sessions of the last stage.
  std::optional<Date> due_day() const {
    std::optional<Date> day;
    for (const int j : demanded_) {
      const auto& by = data_.jobs[static_cast<std::size_t>(j)].by;
      const bool within = by && *by >= stage(last_).bench && *by < stage(last_).last_day();
      if (within && (!day || *by < *day)) day = by;
    }
    return day;
  }

  /// Of the last stage only its sessions up to the day that is due within it.
  std::int64_t minutes_of(int t) const {
    const std::optional<Date> day = t == last_ ? due_day() : std::nullopt;
    std::int64_t minutes = day ? 0 : stage(t).minutes;
    for (const budgets::Mark& mark : stage(t).marks) {
      if (day && mark.day <= *day) minutes = mark.minutes;
    }
    return minutes;
  }

  void say_hours() {
    if (!impossible_.hours) return;
    std::int64_t sum = 0, longest = 0;
    for (int t = 0; t <= last_; ++t) {
      sum += minutes_of(t);
      longest = std::max(longest, minutes_of(t));
    }
    const std::optional<Date> day = due_day();
    const std::string until = day ? ", its sessions up to " + budgets::write_date(*day) + "," : "";
    say((single() ? "It takes at least " : "Together they take at least ") +
        hours_text(least_minutes(problem_, demanded_)) + " on the bench; the stages " + up_to() + until +
        " have " + hours_text(sum) + ", at most " + hours_text(longest) + " in one stage.");
  }

  void say_release() {
    bool said = false;
    if (impossible_.cash && impossible_.short_by) {
      say("Released by " + money(*impossible_.short_by) + " more at the start.");
      said = true;
    }
    if (impossible_.hours) {
      say("Released by " + more_hours() + ".");
      said = true;
    }
    if (const int later = later_stage(); later >= 0) {
      say("Released by a later date: the day " + budgets::write_date(stage(later).last_day()) + " (stage " +
          std::to_string(build_.money.stages_over + later + 1) + ") is late enough.");
      said = true;
    }
    if (said) return;
    if (cause_told_) return say("Neither more money nor more hours nor a later date releases it.");
    say("Neither more money nor more hours nor a later date releases it: look at the order of jobs, delivery "
        "times, order days, mates and clashes.");
  }

  std::string more_hours() const {
    const budgets::Least least = releasing_minutes(problem_, impossible_, options_.stop);
    if (!least.at_most) return "more hours on the bench, where they are short";
    return (least.exact() ? "" : "at most ") + hours_text(*least.at_most) +
           " more on the bench in each stage";
  }

  /// Whether a plan is found when the musts of the conflict may be done up to stage `latest`.
  bool works_by(int latest) const {
    budgets::ProblemData changed = data_;
    for (const int j : demanded_) {
      budgets::Job& own = changed.jobs[static_cast<std::size_t>(j)];
      own.latest = std::max(problem_.latest(j), latest);
      if (own.by) own.by = std::max(*own.by, stage(latest).last_day());
    }
    changed.bother = 0;  // any plan will do
    changed.renewals.clear();
    for (budgets::Job& one : changed.jobs) std::fill(one.worth.begin(), one.worth.end(), 0);
    budgets::SolveOptions quick;
    quick.steps = steps_for_a_date;
    quick.explain = false;
    quick.effort = budgets::Effort::quick;
    quick.stop = options_.stop;
    const budgets::Result result = budgets::solve(budgets::Problem(std::move(changed)), quick);
    const auto* stopped = std::get_if<budgets::Stopped>(&result);
    return std::holds_alternative<budgets::Proven>(result) || (stopped && stopped->plan);
  }

  /// The earliest stage that is late enough, or -1: none, or no date stands in the way.
  int later_stage() const {
    const bool within = due_day().has_value();
    const bool dated = within || std::any_of(demanded_.begin(), demanded_.end(), [&](int j) {
                         return problem_.latest(j) < problem_.stage_count() - 1;
                       });
    int high = problem_.stage_count() - 1, low = within ? last_ - 1 : last_;
    if (!dated || !works_by(high)) return -1;
    while (low + 1 < high) {
      const int middle = (low + high) / 2;
      (works_by(middle) ? high : low) = middle;
    }
    return high;
  }

  /// Not even doing nothing keeps the rules.
  void tell_without_jobs() {
    Money cash = data_.opening;
    for (int t = 0; t < problem_.stage_count(); ++t) {
      cash += stage(t).cash_in;
      if (cash >= stage(t).floor) continue;
      say("Even with nothing bought, cash after the payday of " + budgets::write_date(stage(t).payday) +
          " is " + money(cash) + "; " + money(stage(t).floor) +
          " must be left for the keep-back and the bills before the next payday.");
      say("The money is short by " + money(stage(t).floor - cash) + ".");
      return;
    }
    say("What is on the machine from the start does not fit together, and no job of the first stage changes "
        "that.");
  }

  const build::Build& build_;
  const budgets::Problem& problem_;
  const budgets::ProblemData& data_;
  const budgets::Impossible& impossible_;
  const budgets::SolveOptions& options_;
  std::vector<int> demanded_;
  int last_ = 0;
  bool cause_told_ = false;
  Conflict conflict_;
};

}  // namespace

budgets::Least releasing_minutes(const budgets::Problem& problem, const budgets::Impossible& impossible,
                                 const std::atomic<bool>* stop) {
  if (!impossible.hours) return {0, {}, true};
  budgets::ProblemData data = problem.data();
  data.renewals.clear();
  std::int64_t all = 0;
  for (budgets::Job& job : data.jobs) {
    job.must = false;
    std::fill(job.worth.begin(), job.worth.end(), 0);
    all += job.minutes;
  }
  for (const budgets::Removal& removal : data.removals) all += removal.minutes;
  for (const int must : impossible.musts) data.jobs[static_cast<std::size_t>(must)].must = true;
  budgets::Solver solver{budgets::Problem(std::move(data))};
  const auto ask = [&](std::int64_t minutes) -> budgets::Reply {
    budgets::SolveOptions options;
    options.effort = budgets::Effort::quick;
    options.stop = stop;
    options.explain = false;
    options.extra_minutes.assign(problem.data().stages.size(), minutes);
    const budgets::Result result = solver.solve(options);
    if (std::holds_alternative<budgets::Impossible>(result)) return {budgets::Possible::no, 0};
    const auto* stopped = std::get_if<budgets::Stopped>(&result);
    if (stopped && !stopped->plan) return {budgets::Possible::unknown, 0};
    return {budgets::Possible::yes, minutes};
  };
  return budgets::least_enough(ask, {1, {}, false}, all);
}

Conflict conflict_of(const build::Build& build, const budgets::Problem& problem,
                     const budgets::Impossible& impossible, const budgets::SolveOptions& options) {
  Conflict conflict = ConflictTeller(build, problem, impossible, options).tell();
  conflict.from = build.money.from;
  return conflict;
}

}  // namespace fettlefund::planning
