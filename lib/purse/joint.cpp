#include "lib/purse/joint.hpp"

#include <algorithm>
#include <map>

namespace fettlefund::purse {
namespace {

using budgets::Money;

void shift(std::vector<int>& list, int by) {
  for (int& one : list) one += by;
}

void shift(std::vector<std::vector<int>>& lists, int by) {
  for (auto& list : lists) shift(list, by);
}

template <class T>
void append(std::vector<T>& to, const std::vector<T>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

/// Appends one build's problem to the joint one.
class Appender {
 public:
  Appender(budgets::ProblemData& to, const Offsets& at) : to_(to), at_(at) {}

  void add(budgets::ProblemData from) {
    const int carriers = static_cast<int>(to_.carriers.size());
    for (budgets::Article& one : from.articles) offers(one.offers);
    for (budgets::Tool& one : from.tools) offers(one.offers);
    for (budgets::Removal& one : from.removals) removal(one);
    for (budgets::Job& one : from.jobs) job(one);
    for (budgets::Carrier& one : from.carriers) carrier(one);
    for (budgets::Clash& one : from.clashes) {
      one.a += carriers;
      one.b += carriers;
      shift(one.adapted_by, at_.jobs);
    }
    shift(from.one_of, at_.jobs);
    shift(from.together, at_.jobs);
    for (budgets::Renewal& one : from.renewals) shift(one.jobs, at_.jobs);
    append(to_.articles, from.articles);
    append(to_.tools, from.tools);
    append(to_.removals, from.removals);
    append(to_.jobs, from.jobs);
    append(to_.carriers, from.carriers);
    append(to_.clashes, from.clashes);
    append(to_.one_of, from.one_of);
    append(to_.together, from.together);
    append(to_.renewals, from.renewals);
  }

  int keys = 0;  ///< mate keys of the builds before

 private:
  void offers(std::vector<budgets::Offer>& list) const {
    for (budgets::Offer& one : list) one.supplier = at_.suppliers[static_cast<std::size_t>(one.supplier)];
  }
  void needs(std::vector<budgets::Need>& list) const {
    for (budgets::Need& one : list) one.article += at_.articles;
  }
  void removal(budgets::Removal& one) const {
    one.rank += at_.removals;
    shift(one.needs, at_.removals);
    needs(one.one_use);
    shift(one.tools, at_.tools);
    shift(one.any_tools, at_.tools);
  }
  void job(budgets::Job& one) const {
    one.rank += at_.jobs;
    shift(one.removals, at_.removals);
    shift(one.after, at_.jobs);
    needs(one.needs);
    shift(one.tools, at_.tools);
    shift(one.any_tools, at_.tools);
  }
  void carrier(budgets::Carrier& one) const {
    if (one.brought_by >= 0) one.brought_by += at_.jobs;
    shift(one.replaced_by, at_.jobs);
    for (budgets::Carrier::Mate& mate : one.mates) mate.key += keys;
  }

  budgets::ProblemData& to_;
  const Offsets& at_;
};

/// Without the allowance.
Money plain(const budgets::StageCost& cost) { return cost.goods + cost.delivery + cost.hire + cost.fees; }

/// One build's part of a joint plan.
class Part {
 public:
  /// `before`: what the builds before it spend on each stage, without the allowance.
  Part(const Joint& joint, const budgets::Plan& plan, std::size_t build, const std::vector<Money>& before)
      : joint_(joint), plan_(plan), build_(build), own_(joint.stagings[build].problem), before_(before) {}

  budgets::Plan make() {
    part_.schedule = schedule();
    for (std::size_t t = 0; t < plan_.stages.size(); ++t) part_.stages.push_back(bench(t));
    for (const budgets::Order& order : plan_.orders) add_order(order);
    for (std::size_t t = 0; t < plan_.stages.size(); ++t) {
      budgets::StageCost& to = part_.stages[t];
      to.allowance = allowance(t);
      to.spent = to.goods + to.delivery + to.hire + to.fees + to.allowance;
      to.cash_after = plan_.stages[t].cash_after;
      part_.spent += to.spent;
      part_.minutes += to.job_minutes + to.removal_minutes;
    }
    part_.value = value();
    return std::move(part_);
  }

 private:
  const Offsets& at(std::size_t build) const { return joint_.offsets[build]; }

  /// The part of a list of joint indices that is the build's, as its own.
  static std::vector<int> own(const std::vector<int>& all, int from, std::size_t count) {
    std::vector<int> part;
    for (const int one : all) {
      if (one >= from && one < from + static_cast<int>(count)) part.push_back(one - from);
    }
    return part;
  }

  budgets::Schedule schedule() const {
    const auto cut = [](const std::vector<int>& all, int from, std::size_t count) {
      return std::vector<int>(all.begin() + from, all.begin() + from + static_cast<std::ptrdiff_t>(count));
    };
    return {cut(plan_.schedule.stage_of, at(build_).jobs, own_.jobs.size()),
            cut(plan_.schedule.tool_bought, at(build_).tools, own_.tools.size())};
  }

  budgets::StageCost bench(std::size_t t) const {
    const budgets::StageCost& from = plan_.stages[t];
    budgets::StageCost to;
    to.jobs = own(from.jobs, at(build_).jobs, own_.jobs.size());
    to.opened = own(from.opened, at(build_).removals, own_.removals.size());
    to.hired = own(from.hired, at(build_).tools, own_.tools.size());
    for (const int j : to.jobs) {
      to.fees += own_.jobs[static_cast<std::size_t>(j)].cost;
      to.job_minutes += own_.jobs[static_cast<std::size_t>(j)].minutes;
    }
    for (const int r : to.opened) {
      to.fees += own_.removals[static_cast<std::size_t>(r)].cost;
      to.removal_minutes += own_.removals[static_cast<std::size_t>(r)].minutes;
    }
    for (const int k : to.hired) to.hire += own_.tools[static_cast<std::size_t>(k)].hire.value_or(Money());
    return to;
  }

  /// Which build a line of an order belongs to.
  std::size_t build_of(const budgets::OrderLine& line) const {
    std::size_t b = joint_.offsets.size() - 1;
    while (b > 0 && (line.tool >= 0 ? line.tool < at(b).tools : line.article < at(b).articles)) --b;
    return b;
  }

  void add_order(const budgets::Order& order) {
    budgets::Order to{order.stage, 0, {}, {}, {}};
    std::size_t first = joint_.offsets.size();
    for (budgets::OrderLine line : order.lines) {
      const std::size_t b = build_of(line);
      first = std::min(first, b);
      if (b != build_) continue;
      if (line.tool >= 0) line.tool -= at(build_).tools;
      if (line.article >= 0) line.article -= at(build_).articles;
      to.goods += line.amount;
      to.lines.push_back(line);
    }
    if (to.lines.empty()) return;
    const std::vector<int>& suppliers = at(build_).suppliers;
    to.supplier =
        static_cast<int>(std::find(suppliers.begin(), suppliers.end(), order.supplier) - suppliers.begin());
    if (first == build_) to.delivery = order.delivery;
    budgets::StageCost& stage = part_.stages[static_cast<std::size_t>(order.stage)];
    stage.goods += to.goods;
    stage.delivery += to.delivery;
    part_.orders.push_back(std::move(to));
  }

  /// Of all builds up to this one, less that of those before it.
  Money allowance(std::size_t t) const {
    const Money with = before_[t] + plain(part_.stages[t]);
    const std::int64_t points = joint_.problem.allowance_bp;
    return budgets::percentage_rounded_up(with, points) - budgets::percentage_rounded_up(before_[t], points);
  }

  std::int64_t value() const {
    std::int64_t sum = 0;
    for (std::size_t j = 0; j < own_.jobs.size(); ++j) {
      const int stage = part_.schedule.stage_of[j];
      if (stage >= 0) sum += own_.jobs[j].worth[static_cast<std::size_t>(stage)];
    }
    for (const budgets::Renewal& one : own_.renewals) sum += budgets::worth_of(one, part_.schedule.stage_of);
    for (const budgets::StageCost& stage : part_.stages) sum -= own_.bother * stage.removal_minutes;
    return sum;
  }

  const Joint& joint_;
  const budgets::Plan& plan_;
  std::size_t build_;
  const budgets::ProblemData& own_;
  const std::vector<Money>& before_;
  budgets::Plan part_;
};

}  // namespace

Joint join(const Purse& purse) {
  Joint joint;
  std::map<build::Id, int> suppliers;
  int keys = 0;
  for (const Member& member : purse.members) {
    joint.stagings.push_back(planning::to_staging(member.build));
    const planning::Staging& staging = joint.stagings.back();
    budgets::ProblemData& all = joint.problem;
    if (joint.offsets.empty()) {
      all.opening = staging.problem.opening;
      all.allowance_bp = staging.problem.allowance_bp;
      all.bother = staging.problem.bother;
      all.stages = staging.problem.stages;
    }
    Offsets at{static_cast<int>(all.jobs.size()),
               static_cast<int>(all.removals.size()),
               static_cast<int>(all.articles.size()),
               static_cast<int>(all.tools.size()),
               {}};
    for (std::size_t s = 0; s < member.build.suppliers.size(); ++s) {
      const auto [known, fresh] =
          suppliers.emplace(member.build.suppliers[s].id, static_cast<int>(all.suppliers.size()));
      if (fresh) all.suppliers.push_back(staging.problem.suppliers[s]);
      at.suppliers.push_back(known->second);
    }
    joint.offsets.push_back(std::move(at));
    Appender appender(all, joint.offsets.back());
    appender.keys = keys;
    appender.add(staging.problem);
    keys += static_cast<int>(staging.machine.keys.size());
  }
  int rank = 0;
  for (const auto& [id, place] : suppliers)
    joint.problem.suppliers[static_cast<std::size_t>(place)].rank = rank++;
  return joint;
}

std::vector<budgets::Plan> parts_of(const Joint& joint, const budgets::Plan& plan) {
  std::vector<budgets::Plan> parts;
  std::vector<Money> before(plan.stages.size());
  for (std::size_t b = 0; b < joint.stagings.size(); ++b) {
    parts.push_back(Part(joint, plan, b, before).make());
    for (std::size_t t = 0; t < before.size(); ++t) before[t] += plain(parts.back().stages[t]);
  }
  return parts;
}

}  // namespace fettlefund::purse
