#include "budgets/costing/costing_rules.hpp"

#include <algorithm>
#include <map>

namespace fettlefund::budgets {
namespace {

std::string number(int value) { return std::to_string(value); }

bool in_range(int stage, int stages) { return stage >= -1 && stage < stages; }

void check_window(const Problem& problem, int job, int stage, std::vector<Violation>& broken) {
  const Job& data = problem.data().jobs[job];
  if (stage < 0) {
    if (data.must) broken.push_back({Rule::must, -1, job, {}, "job " + number(job) + " must be done"});
  } else if (stage < data.earliest || stage > problem.latest(job)) {
    broken.push_back({Rule::window,
                      stage,
                      job,
                      {},
                      "job " + number(job) + " is done in stage " + number(stage) + ", allowed are " +
                          number(data.earliest) + " to " + number(problem.latest(job))});
  }
}

void check_after(const Problem& problem, const Schedule& schedule, int job, std::vector<Violation>& broken) {
  const int stage = schedule.stage_of[job];
  if (stage < 0) return;
  for (int before : problem.data().jobs[job].after) {
    const int done = schedule.stage_of[before];
    if (done >= 0 && done <= stage) continue;
    broken.push_back({Rule::order,
                      stage,
                      job,
                      {},
                      "job " + number(job) + " is done before job " + number(before) + " has been"});
  }
}

void check_one_of(const std::vector<int>& group, const Schedule& schedule, std::vector<Violation>& broken) {
  int first = -1;
  for (int job : group) {
    if (schedule.stage_of[job] < 0) continue;
    if (first < 0) {
      first = job;
    } else {
      broken.push_back({Rule::one_of,
                        schedule.stage_of[job],
                        job,
                        {},
                        "at most one of jobs " + number(first) + " and " + number(job) + " may be done"});
    }
  }
}

void check_together(const std::vector<int>& group, const Schedule& schedule, std::vector<Violation>& broken) {
  for (int job : group) {
    const int stage = schedule.stage_of[job];
    if (stage == schedule.stage_of[group.front()]) continue;
    broken.push_back({Rule::together,
                      stage,
                      job,
                      {},
                      "jobs " + number(group.front()) + " and " + number(job) + " must share a stage"});
  }
}

/// Whether a job has been done by the end of a stage.
bool done_by(const Schedule& schedule, int job, int stage) {
  return schedule.stage_of[job] >= 0 && schedule.stage_of[job] <= stage;
}

bool any_done(const Schedule& schedule, const std::vector<int>& jobs, int stage) {
  return std::any_of(jobs.begin(), jobs.end(), [&](int j) { return done_by(schedule, j, stage); });
}

std::vector<char> carriers_present(const ProblemData& data, const Schedule& schedule, int stage) {
  std::vector<char> present;
  for (const Carrier& carrier : data.carriers) {
    const int since = carrier.brought_by < 0 ? 0 : schedule.stage_of[carrier.brought_by];
    const bool brought = since >= 0 && since <= stage;
    const auto ends = [&](int j) { return schedule.stage_of[j] >= since && schedule.stage_of[j] <= stage; };
    present.push_back(brought && std::none_of(carrier.replaced_by.begin(), carrier.replaced_by.end(), ends));
  }
  return present;
}

void check_mates(const ProblemData& data, const std::vector<char>& present, int stage,
                 std::vector<Violation>& broken) {
  std::map<int, int> value_of;
  std::vector<int> reported;
  for (std::size_t c = 0; c < data.carriers.size(); ++c) {
    if (!present[c]) continue;
    for (const Carrier::Mate& mate : data.carriers[c].mates) {
      const int agreed = value_of.emplace(mate.key, mate.value).first->second;
      if (agreed == mate.value) continue;
      if (std::find(reported.begin(), reported.end(), mate.key) != reported.end()) continue;
      reported.push_back(mate.key);
      broken.push_back({Rule::mate,
                        stage,
                        mate.key,
                        {},
                        "key " + number(mate.key) + " has values " + number(agreed) + " and " +
                            number(mate.value) + " at the end of stage " + number(stage)});
    }
  }
}

void check_clashes(const ProblemData& data, const std::vector<char>& present, const Schedule& schedule,
                   int stage, std::vector<Violation>& broken) {
  for (std::size_t c = 0; c < data.clashes.size(); ++c) {
    const Clash& clash = data.clashes[c];
    if (!present[clash.a] || !present[clash.b] || any_done(schedule, clash.adapted_by, stage)) continue;
    broken.push_back({Rule::clash,
                      stage,
                      static_cast<int>(c),
                      {},
                      "carriers " + number(clash.a) + " and " + number(clash.b) +
                          " are together at the end of stage " + number(stage)});
  }
}

}  // namespace

bool check_shape(const Problem& problem, const Schedule& schedule, std::vector<Violation>& broken) {
  const ProblemData& data = problem.data();
  if (schedule.stage_of.size() != data.jobs.size() || schedule.tool_bought.size() != data.tools.size()) {
    broken.push_back({Rule::window, -1, -1, {}, "the schedule has not one entry a job and a tool"});
    return false;
  }
  const auto check = [&](const std::vector<int>& entries, const std::string& what) {
    for (std::size_t i = 0; i < entries.size(); ++i) {
      if (in_range(entries[i], problem.stage_count())) continue;
      broken.push_back({Rule::window,
                        -1,
                        static_cast<int>(i),
                        {},
                        what + number(static_cast<int>(i)) + " has no stage " + number(entries[i])});
    }
  };
  check(schedule.stage_of, "job ");
  check(schedule.tool_bought, "tool ");
  return broken.empty();
}

void check_choices(const Problem& problem, const Schedule& schedule, std::vector<Violation>& broken) {
  for (int j = 0; j < problem.job_count(); ++j) {
    check_window(problem, j, schedule.stage_of[j], broken);
    check_after(problem, schedule, j, broken);
  }
  for (const auto& group : problem.data().one_of) check_one_of(group, schedule, broken);
  for (const auto& group : problem.data().together) check_together(group, schedule, broken);
}

void check_fit(const Problem& problem, const Schedule& schedule, std::vector<Violation>& broken) {
  if (problem.data().carriers.empty()) return;
  for (int t = 0; t < problem.stage_count(); ++t) {
    const std::vector<char> present = carriers_present(problem.data(), schedule, t);
    check_mates(problem.data(), present, t, broken);
    check_clashes(problem.data(), present, schedule, t, broken);
  }
}

}  // namespace fettlefund::budgets
