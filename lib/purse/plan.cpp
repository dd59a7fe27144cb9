#include "lib/purse/plan.hpp"

#include <algorithm>

#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"
#include "lib/purse/joint.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::purse {
namespace {

using budgets::Money;
using planning::money_text;

std::string named(const Member& member, const build::Job& job) {
  return member.build.name + ": " + job.name + (job.by ? " (by " + budgets::write_date(*job.by) + ")" : "");
}

/// Which demands conflict, with the builds' names.
planning::Conflict conflict_of(const Purse& purse, const Joint& joint,
                               const budgets::Impossible& impossible) {
  const build::Build& build = purse.members.front().build;
  planning::Conflict told;
  std::vector<std::string> names;
  for (const int must : impossible.musts) {
    std::size_t b = joint.offsets.size() - 1;
    while (must < joint.offsets[b].jobs) --b;
    const build::Job& job =
        purse.members[b].build.jobs[static_cast<std::size_t>(must - joint.offsets[b].jobs)];
    told.jobs.push_back(purse.members[b].id + "/" + job.id);
    names.push_back(named(purse.members[b], job));
  }
  told.sentences.push_back(
      names.empty() ? "Even with nothing bought the money of the purse does not keep what has to be left, "
                      "or what is on a machine from the start does not fit together."
      : names.size() == 1 ? "This has to be done and cannot be: " + names.front() + "."
                          : "These have to be done and cannot all be: " + planning::list_text(names) + ".");
  if (impossible.cash && impossible.short_by)
    told.sentences.push_back("The money is short by " + money_text(build, *impossible.short_by) +
                             "; so much more at the start would release them.");
  if (impossible.hours) told.sentences.push_back("With more hours on the bench they could be done.");
  return told;
}

std::int64_t used(const budgets::StageCost& cost) { return cost.job_minutes + cost.removal_minutes; }

class Teller {
 public:
  Teller(const Purse& purse, const Joint& joint, const budgets::Plan& plan)
      : purse_(purse), joint_(joint), plan_(plan), parts_(parts_of(joint, plan)) {}

  Outcome tell(bool proven, bool ties_proven, std::int64_t bound, const budgets::Work& work) const {
    Outcome outcome;
    outcome.build = std::make_unique<build::Build>();
    const build::Build& first = purse_.members.front().build;
    outcome.build->name = purse_.name;
    outcome.build->currency = first.currency;
    outcome.build->money = first.money;
    outcome.build->bench = first.bench;
    fill(outcome.whole, *outcome.build, proven, bound);
    outcome.whole.ties_proven = ties_proven;
    outcome.whole.work = work;
    for (std::size_t t = 0; t < plan_.stages.size(); ++t) outcome.stages.push_back(sum(t));
    for (std::size_t b = 0; b < parts_.size(); ++b) outcome.shares.push_back(share(b, proven));
    return outcome;
  }

 private:
  void fill(planning::Outcome& whole, const build::Build& build, bool proven, std::int64_t bound) const {
    whole.build = &build;
    whole.proof = proven ? planning::Proof::proven : planning::Proof::stopped;
    whole.value_want_days = plan_.value / planning::worth_per_want_day;
    whole.bound_want_days = proven ? whole.value_want_days : planning::want_days_at_most(bound);
    whole.end = joint_.stagings.front().calendar.end;
    whole.spent = plan_.spent;
    whole.left = plan_.stages.empty() ? build.money.opening : plan_.stages.back().cash_after;
  }

  /// Of a stage of the plan, in the whole purse.
  int number(std::size_t t) const {
    return purse_.members.front().build.money.stages_over + static_cast<int>(t) + 1;
  }

  StageSum sum(std::size_t t) const {
    const budgets::Stage& stage = joint_.problem.stages[t];
    const budgets::StageCost& cost = plan_.stages[t];
    StageSum told{number(t),       stage.payday, stage.bench, stage.cash_in, cost.spent,
                  cost.cash_after, stage.floor,  used(cost),  stage.minutes, {}};
    for (const budgets::Plan& part : parts_) told.spent_by.push_back(part.stages[t].spent);
    return told;
  }

  /// The build as it stands beside the others.
  std::unique_ptr<build::Build> beside_others(std::size_t own) const {
    auto build = std::make_unique<build::Build>(purse_.members[own].build);
    build->bench.exceptions.clear();
    build->bench.minutes_gone = 0;  // the joint problem's stages have it already
    for (std::size_t t = 0; t < plan_.stages.size(); ++t) {
      const budgets::Stage& stage = joint_.problem.stages[t];
      build::BenchException bench{number(t), stage.minutes, reason_of(own, t)};
      for (std::size_t b = 0; b < parts_.size(); ++b) {
        const budgets::StageCost& part = parts_[b].stages[t];
        if (b == own) continue;
        const std::string& name = purse_.members[b].build.name;
        if (part.spent != Money())
          build->money.extras.push_back({stage.payday, Money() - part.spent, "spent on " + name});
        if (used(part) == 0) continue;
        bench.minutes -= used(part);
        bench.why += (bench.why.empty() ? "" : "; ") + planning::hours_text(used(part)) + " go to " + name;
      }
      build->bench.exceptions.push_back(std::move(bench));
    }
    return build;
  }

  /// Why the purse has other hours there, if it says so.
  std::string reason_of(std::size_t build, std::size_t t) const {
    for (const build::BenchException& one : purse_.members[build].build.bench.exceptions) {
      if (one.stage == number(t)) return one.why;
    }
    return {};
  }

  Share share(std::size_t b, bool proven) const {
    Share share{purse_.members[b].id, beside_others(b), {}};
    const planning::Staging staging = planning::to_staging(*share.build);
    const budgets::Problem problem(staging.problem);
    const planning::View view{*share.build, staging, problem, parts_[b]};
    share.outcome = planning::outcome_of(view, false, parts_[b].value, {});
    share.outcome.purse = purse_.name;
    for (planning::StageView& stage : share.outcome.stages) share_orders(stage, b);
    if (!proven) return share;
    // Reasons that would speak of a search cut short: this one was not.
    for (planning::LeftOut& left : share.outcome.left_out) {
      if (left.reason.starts_with("the search "))
        left.reason = "the plan's other jobs are worth more for the money and hours";
    }
    return share;
  }

  /// An order that other builds share has its delivery as planned, whatever becomes of this build's goods.
  void share_orders(planning::StageView& stage, std::size_t b) const {
    for (planning::OrderView& order : stage.orders) {
      if (!shared(stage.number - number(0), order.supplier, b)) continue;
      order.delivery_charge = order.delivery;
      order.free_from.reset();
    }
  }

  bool shared(int t, const build::Id& supplier, std::size_t own) const {
    for (std::size_t b = 0; b < parts_.size(); ++b) {
      if (b == own) continue;
      for (const budgets::Order& order : parts_[b].orders) {
        const auto& suppliers = purse_.members[b].build.suppliers;
        if (order.stage == t && suppliers[static_cast<std::size_t>(order.supplier)].id == supplier)
          return true;
      }
    }
    return false;
  }

  const Purse& purse_;
  const Joint& joint_;
  const budgets::Plan& plan_;
  std::vector<budgets::Plan> parts_;
};

}  // namespace

Planning plan(const Purse& purse, const budgets::SolveOptions& options) {
  const Joint joint = join(purse);
  const budgets::Problem problem(joint.problem);
  const budgets::Result result = budgets::solve(problem, options);
  if (const auto* impossible = std::get_if<budgets::Impossible>(&result))
    return conflict_of(purse, joint, *impossible);
  if (const auto* proven = std::get_if<budgets::Proven>(&result))
    return Teller(purse, joint, proven->plan)
        .tell(true, proven->ties_proven, proven->plan.value, proven->work);
  const auto& stopped = std::get<budgets::Stopped>(result);
  if (!stopped.plan) return planning::NoPlan{stopped.work};
  return Teller(purse, joint, *stopped.plan).tell(false, false, stopped.bound, stopped.work);
}

}  // namespace fettlefund::purse
