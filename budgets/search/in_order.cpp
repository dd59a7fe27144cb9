#include "budgets/search/in_order.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

namespace fettlefund::budgets::search {
namespace {

/// The places of a list by rank.
template <class Entry>
std::vector<int> by_rank(const std::vector<Entry>& entries) {
  std::vector<int> places(entries.size());
  std::iota(places.begin(), places.end(), 0);
  std::stable_sort(places.begin(), places.end(),
                   [&](int a, int b) { return entries[a].rank < entries[b].rank; });
  return places;
}

std::vector<int> turned_round(const std::vector<int>& places) {
  std::vector<int> back(places.size());
  for (std::size_t i = 0; i < places.size(); ++i) back[places[i]] = static_cast<int>(i);
  return back;
}

template <class Entry>
std::vector<Entry> taken(std::vector<Entry>& from, const std::vector<int>& places) {
  std::vector<Entry> taken;
  for (const int place : places) taken.push_back(std::move(from[place]));
  return taken;
}

void rename(std::vector<int>& list, const std::vector<int>& names) {
  for (int& one : list) one = names[one];
  std::sort(list.begin(), list.end());
}

void rename(std::vector<std::vector<int>>& lists, const std::vector<int>& names) {
  for (auto& list : lists) rename(list, names);
  std::sort(lists.begin(), lists.end());
}

void sort(std::vector<Need>& needs) {
  std::sort(needs.begin(), needs.end(), [](const Need& a, const Need& b) {
    return std::pair(a.article, a.amount) < std::pair(b.article, b.amount);
  });
}

void sort_tools(std::vector<int>& tools, std::vector<std::vector<int>>& any_tools) {
  std::sort(tools.begin(), tools.end());
  for (auto& set : any_tools) std::sort(set.begin(), set.end());
  std::sort(any_tools.begin(), any_tools.end());
}

/// Rewrites a problem for jobs, removals and suppliers in other places.
class Renamer {
 public:
  Renamer(const std::vector<int>& jobs, const std::vector<int>& removals, const std::vector<int>& suppliers)
      : job_(turned_round(jobs)), removal_(turned_round(removals)), supplier_(turned_round(suppliers)) {}

  void rename_all(ProblemData& data) const {
    for (Job& job : data.jobs) rename_job(job);
    for (Removal& removal : data.removals) {
      rename(removal.needs, removal_);
      sort(removal.one_use);
      sort_tools(removal.tools, removal.any_tools);
    }
    for (Article& article : data.articles) rename_offers(article.offers);
    for (Tool& tool : data.tools) rename_offers(tool.offers);
    rename_fit(data);
    rename(data.one_of, job_);
    rename(data.together, job_);
    for (Renewal& renewal : data.renewals) rename_renewal(renewal);
    std::sort(data.renewals.begin(), data.renewals.end(), [](const Renewal& a, const Renewal& b) {
      return std::tie(a.jobs, a.worth) < std::tie(b.jobs, b.worth);
    });
  }

 private:
  void rename_job(Job& job) const {
    rename(job.removals, removal_);
    rename(job.after, job_);
    sort(job.needs);
    sort_tools(job.tools, job.any_tools);
  }

  void rename_offers(std::vector<Offer>& offers) const {
    for (Offer& offer : offers) offer.supplier = supplier_[offer.supplier];
  }

  void rename_fit(ProblemData& data) const {
    for (Carrier& carrier : data.carriers) {
      if (carrier.brought_by >= 0) carrier.brought_by = job_[carrier.brought_by];
      rename(carrier.replaced_by, job_);
      std::sort(carrier.mates.begin(), carrier.mates.end(), [](const auto& a, const auto& b) {
        return std::pair(a.key, a.value) < std::pair(b.key, b.value);
      });
    }
    for (Clash& clash : data.clashes) rename(clash.adapted_by, job_);
    std::sort(data.clashes.begin(), data.clashes.end(), [](const Clash& a, const Clash& b) {
      return std::tie(a.a, a.b, a.adapted_by) < std::tie(b.a, b.b, b.adapted_by);
    });
  }

  void rename_renewal(Renewal& renewal) const {
    std::vector<std::pair<int, std::vector<std::int64_t>>> entries;
    for (std::size_t i = 0; i < renewal.jobs.size(); ++i)
      entries.emplace_back(job_[renewal.jobs[i]], std::move(renewal.worth[i]));
    std::sort(entries.begin(), entries.end());
    for (std::size_t i = 0; i < entries.size(); ++i) {
      renewal.jobs[i] = entries[i].first;
      renewal.worth[i] = std::move(entries[i].second);
    }
  }

  std::vector<int> job_, removal_, supplier_;  ///< [place given] place in order
};

Problem ordered(ProblemData data, const std::vector<int>& jobs, const std::vector<int>& removals,
                const std::vector<int>& suppliers) {
  Renamer(jobs, removals, suppliers).rename_all(data);
  data.jobs = taken(data.jobs, jobs);
  data.removals = taken(data.removals, removals);
  data.suppliers = taken(data.suppliers, suppliers);
  return Problem(std::move(data));
}

}  // namespace

InOrder::InOrder(const ProblemData& given)
    : jobs_(by_rank(given.jobs)),
      removals_(by_rank(given.removals)),
      suppliers_(by_rank(given.suppliers)),
      problem_(ordered(given, jobs_, removals_, suppliers_)) {}

Schedule InOrder::there(const Schedule& schedule) const {
  Schedule there = schedule;
  if (schedule.stage_of.size() != jobs_.size()) return there;
  for (std::size_t j = 0; j < jobs_.size(); ++j) there.stage_of[j] = schedule.stage_of[jobs_[j]];
  return there;
}

SolveOptions InOrder::there(SolveOptions options) const {
  const std::vector<int> job = turned_round(jobs_);
  for (Placement& placement : options.placements) {
    const bool known = placement.job >= 0 && placement.job < static_cast<int>(job.size());
    if (known) placement.job = job[placement.job];
  }
  for (Schedule& schedule : options.known) schedule = there(schedule);
  return options;
}

std::vector<int> InOrder::jobs_back(std::vector<int> jobs) const {
  rename(jobs, jobs_);
  return jobs;
}

Plan InOrder::back(Plan plan) const {
  const std::vector<int> stage_of = plan.schedule.stage_of;
  for (std::size_t j = 0; j < jobs_.size(); ++j) plan.schedule.stage_of[jobs_[j]] = stage_of[j];
  for (StageCost& stage : plan.stages) {
    rename(stage.jobs, jobs_);
    rename(stage.opened, removals_);
  }
  for (Order& order : plan.orders) order.supplier = suppliers_[order.supplier];
  std::sort(plan.orders.begin(), plan.orders.end(), [](const Order& a, const Order& b) {
    return std::pair(a.stage, a.supplier) < std::pair(b.stage, b.supplier);
  });
  return plan;
}

Result InOrder::back(Result result) const {
  if (auto* proven = std::get_if<Proven>(&result)) proven->plan = back(std::move(proven->plan));
  if (auto* impossible = std::get_if<Impossible>(&result))
    impossible->musts = jobs_back(std::move(impossible->musts));
  auto* stopped = std::get_if<Stopped>(&result);
  if (stopped != nullptr && stopped->plan) stopped->plan = back(std::move(*stopped->plan));
  return result;
}

}  // namespace fettlefund::budgets::search
