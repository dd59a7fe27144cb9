#include "tests/budgets/support/brute_force.hpp"

#include <algorithm>
#include <set>

#include "budgets/costing/costing.hpp"

namespace fettlefund::testing {
namespace {

using namespace budgets;

class Enumeration {
 public:
  explicit Enumeration(const Problem& problem)
      : problem_(problem), data_(problem.data()), coster_(problem), minutes_(data_.stages.size(), 0) {
    schedule_.stage_of.assign(data_.jobs.size(), -1);
    schedule_.tool_bought.assign(data_.tools.size(), -1);
    most_after_.assign(data_.jobs.size() + 1, 0);
    for (int i = problem.job_count() - 1; i >= 0; --i) {
      std::int64_t most = 0;
      for (int t = 0; t < problem.stage_count(); ++t)
        most = std::max(most, most_worth(problem.order()[i], t));
      most_after_[i] = most_after_[i + 1] + most;
    }
  }

  BruteForce run() {
    place(0, 0);
    return std::move(result_);
  }

 private:
  void place(int index, std::int64_t worth);
  void put(int index, int job, int stage, std::int64_t worth);
  bool after_holds(int job, int stage) const;
  bool groups_hold(int index, int job, int stage) const;
  std::int64_t most_worth(int job, int stage) const;
  bool hours_hold(int stage) const;
  std::int64_t bother() const;
  std::set<int> opened(int stage) const;
  std::set<int> tools_used(int stage) const;
  void buy_tools(int tool);
  void judge();

  const Problem& problem_;
  const ProblemData& data_;
  Coster coster_;
  Schedule schedule_;
  std::vector<std::int64_t> minutes_;     ///< of the jobs placed, by stage
  std::vector<std::int64_t> most_after_;  ///< most worth of the jobs from this place of the order on
  std::vector<std::set<int>> used_;       ///< tools, by stage, of the schedule at hand
  BruteForce result_;
};

bool Enumeration::after_holds(int job, int stage) const {
  const auto& after = data_.jobs[job].after;
  return std::all_of(after.begin(), after.end(), [&](int before) {
    return schedule_.stage_of[before] >= 0 && schedule_.stage_of[before] <= stage;
  });
}

/// Whether the job's stage (or -1) agrees with those placed before it in the order.
bool Enumeration::groups_hold(int index, int job, int stage) const {
  const auto& order = problem_.order();
  const auto placed = [&](int other) {
    return std::find(order.begin(), order.begin() + index, other) != order.begin() + index;
  };
  const auto holds = [](const std::vector<int>& group, int j) {
    return std::find(group.begin(), group.end(), j) != group.end();
  };
  for (const auto& group : data_.one_of) {
    if (stage < 0 || !holds(group, job)) continue;
    for (int other : group) {
      if (placed(other) && schedule_.stage_of[other] >= 0) return false;
    }
  }
  for (const auto& group : data_.together) {
    if (!holds(group, job)) continue;
    for (int other : group) {
      if (placed(other) && schedule_.stage_of[other] != stage) return false;
    }
  }
  return true;
}

/// All that the job can earn in a stage.
std::int64_t Enumeration::most_worth(int job, int stage) const {
  std::int64_t worth = data_.jobs[job].worth[stage];
  for (const Renewal& renewal : data_.renewals) {
    for (std::size_t i = 0; i < renewal.jobs.size(); ++i) {
      if (renewal.jobs[i] == job) worth += renewal.worth[i][stage];
    }
  }
  return worth;
}

std::set<int> Enumeration::opened(int stage) const {
  std::set<int> result;
  for (int j = 0; j < problem_.job_count(); ++j) {
    if (schedule_.stage_of[j] != stage) continue;
    result.insert(problem_.opened_by(j).begin(), problem_.opened_by(j).end());
  }
  return result;
}

bool Enumeration::hours_hold(int stage) const {
  std::int64_t minutes = minutes_[stage];
  for (int r : opened(stage)) minutes += data_.removals[r].minutes;
  return minutes <= data_.stages[stage].minutes;
}

std::int64_t Enumeration::bother() const {
  std::int64_t minutes = 0;
  for (int t = 0; data_.bother > 0 && t < problem_.stage_count(); ++t) {
    for (int r : opened(t)) minutes += data_.removals[r].minutes;
  }
  return data_.bother * minutes;
}

std::set<int> Enumeration::tools_used(int stage) const {
  std::set<int> result;
  for (int j = 0; j < problem_.job_count(); ++j) {
    if (schedule_.stage_of[j] == stage) result.insert(data_.jobs[j].tools.begin(), data_.jobs[j].tools.end());
  }
  for (int r : opened(stage)) result.insert(data_.removals[r].tools.begin(), data_.removals[r].tools.end());
  const std::set<int> always = result;
  const auto add = [&](const std::vector<std::vector<int>>& any) {
    for (const auto& set : any) {
      if (std::none_of(set.begin(), set.end(), [&](int k) { return always.count(k) > 0; }))
        result.insert(set.begin(), set.end());
    }
  };
  for (int j = 0; j < problem_.job_count(); ++j) {
    if (schedule_.stage_of[j] == stage) add(data_.jobs[j].any_tools);
  }
  for (int r : opened(stage)) add(data_.removals[r].any_tools);
  return result;
}

void Enumeration::put(int index, int job, int stage, std::int64_t worth) {
  if (!groups_hold(index, job, stage)) return;
  schedule_.stage_of[job] = stage;
  if (stage >= 0) minutes_[stage] += data_.jobs[job].minutes;
  if (stage < 0 || hours_hold(stage)) place(index + 1, stage < 0 ? worth : worth + most_worth(job, stage));
  if (stage >= 0) minutes_[stage] -= data_.jobs[job].minutes;
  schedule_.stage_of[job] = -1;
}

void Enumeration::place(int index, std::int64_t worth) {
  if (result_.best && worth + most_after_[index] < result_.best->value) return;
  if (index == problem_.job_count()) {
    if (result_.best && worth - bother() < result_.best->value) return;
    used_.clear();
    for (int t = 0; t < problem_.stage_count(); ++t) used_.push_back(tools_used(t));
    buy_tools(0);
    return;
  }
  const int job = problem_.order()[index];
  for (int t = data_.jobs[job].earliest; t <= problem_.latest(job); ++t) {
    if (after_holds(job, t)) put(index, job, t, worth);
  }
  if (!data_.jobs[job].must) put(index, job, -1, worth);
}

void Enumeration::buy_tools(int tool) {
  if (tool == static_cast<int>(data_.tools.size())) return judge();
  buy_tools(tool + 1);
  for (int t = 0; !data_.tools[tool].offers.empty() && t < problem_.stage_count(); ++t) {
    if (!used_[t].count(tool)) continue;
    schedule_.tool_bought[tool] = t;
    buy_tools(tool + 1);
  }
  schedule_.tool_bought[tool] = -1;
}

void judge_with(const Coster& coster, const Schedule& schedule, BruteForce& result) {
  ++result.judged;
  std::optional<Plan> plan = coster.plan(schedule);
  if (plan && (!result.best || compare(*plan, *result.best) > 0)) result.best = std::move(*plan);
}

void Enumeration::judge() { judge_with(coster_, schedule_, result_); }

/// Counts through all values of the entries, each from -1 to stages - 1; false after the last.
bool advance(std::vector<int>& entries, int stages) {
  for (int& entry : entries) {
    if (++entry < stages) return true;
    entry = -1;
  }
  return false;
}

}  // namespace

BruteForce brute_force(const Problem& problem) { return Enumeration(problem).run(); }

BruteForce enumerate_all(const Problem& problem) {
  const Coster coster(problem);
  BruteForce result;
  Schedule schedule;
  schedule.stage_of.assign(problem.job_count(), -1);
  do {
    schedule.tool_bought.assign(problem.data().tools.size(), -1);
    do {
      judge_with(coster, schedule, result);
    } while (advance(schedule.tool_bought, problem.stage_count()));
  } while (advance(schedule.stage_of, problem.stage_count()));
  return result;
}

bool can_meet(budgets::ProblemData data, const std::vector<int>& musts, std::int64_t extra) {
  for (budgets::Job& job : data.jobs) job.must = false;
  for (int j : musts) data.jobs[j].must = true;
  data.opening += Money::of_minor(extra);
  return brute_force(budgets::Problem(std::move(data))).best.has_value();
}

}  // namespace fettlefund::testing
