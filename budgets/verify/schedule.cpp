#include <algorithm>
#include <set>

#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets::verifier {
namespace {

int job_count(const Subject& subject) { return static_cast<int>(subject.data.jobs.size()); }
int stage_count(const Subject& subject) { return static_cast<int>(subject.data.stages.size()); }
int stage_of(const Subject& subject, int job) { return subject.plan.schedule.stage_of[job]; }

/// Whether any of `jobs` is done in `stage` or before.
bool any_done_by(const Subject& subject, const std::vector<int>& jobs, int stage) {
  return std::any_of(jobs.begin(), jobs.end(),
                     [&](int job) { return stage_of(subject, job) >= 0 && stage_of(subject, job) <= stage; });
}

void check_windows(const Subject& subject, Findings& findings) {
  for (int j = 0; j < job_count(subject); ++j) {
    const Job& job = subject.data.jobs[j];
    const int s = stage_of(subject, j);
    const int latest = job.latest < 0 ? stage_count(subject) - 1 : job.latest;
    if (s < 0 && job.must) found(findings, Rule::must, -1, j, "job ", j, " is a must and left out");
    if (s >= 0 && (s < job.earliest || s > latest))
      found(findings, Rule::window, s, j, "job ", j, " is in stage ", s, ", outside ", job.earliest, " to ",
            latest);
  }
}

void check_after(const Subject& subject, Findings& findings) {
  for (int j = 0; j < job_count(subject); ++j) {
    const int s = stage_of(subject, j);
    if (s < 0) continue;
    for (const int before : subject.data.jobs[j].after)
      if (!any_done_by(subject, {before}, s))
        found(findings, Rule::order, s, j, "job ", j, " is in stage ", s, " but job ", before,
              " is not done by then");
  }
}

void check_groups(const Subject& subject, Findings& findings) {
  const auto& one_of = subject.data.one_of;
  for (int g = 0; g < static_cast<int>(one_of.size()); ++g) {
    const auto done = std::count_if(one_of[g].begin(), one_of[g].end(),
                                    [&](int job) { return stage_of(subject, job) >= 0; });
    if (done > 1)
      found(findings, Rule::one_of, -1, g, static_cast<std::int64_t>(done), " jobs of group ", g,
            " are done, at most one may be");
  }
  const auto& together = subject.data.together;
  for (int g = 0; g < static_cast<int>(together.size()); ++g)
    for (const int job : together[g])
      if (stage_of(subject, job) != stage_of(subject, together[g].front()))
        found(findings, Rule::together, stage_of(subject, job), g, "job ", job, " of group ", g,
              " is not in the stage of job ", together[g].front());
}

void check_hours(const Subject& subject, Findings& findings) {
  for (int s = 0; s < stage_count(subject); ++s) {
    std::int64_t minutes = 0;
    for (const int j : subject.stages[s].jobs) minutes += subject.data.jobs[j].minutes;
    for (const int r : subject.stages[s].opened) minutes += subject.data.removals[r].minutes;
    if (minutes > subject.data.stages[s].minutes)
      found(findings, Rule::hours, s, -1, "stage ", s, " takes ", minutes, " minutes of ",
            subject.data.stages[s].minutes);
  }
}

/// Job `j` and, round by round, all that is done before it or with it.
std::set<int> due_with(const ProblemData& data, int j) {
  std::set<int> due{j};
  for (std::size_t before = 0; before != due.size();) {
    before = due.size();
    for (const int member : std::set<int>(due)) {
      const std::vector<int>& after = data.jobs[member].after;
      due.insert(after.begin(), after.end());
      for (const std::vector<int>& group : data.together)
        if (std::count(group.begin(), group.end(), member) > 0) due.insert(group.begin(), group.end());
    }
  }
  return due;
}

/// What must be done in the stage by the day takes: a removal once.
std::int64_t minutes_due(const Subject& subject, int stage, Date day) {
  const ProblemData& data = subject.data;
  std::set<int> due, opened;
  for (const int j : subject.stages[stage].jobs)
    if (data.jobs[j].by && *data.jobs[j].by >= data.stages[stage].bench && *data.jobs[j].by <= day)
      due.merge(due_with(data, j));
  std::int64_t minutes = 0;
  for (const int j : due) {
    if (stage_of(subject, j) != stage) continue;
    minutes += data.jobs[j].minutes;
    std::vector<int> waiting = data.jobs[j].removals;
    while (!waiting.empty()) {
      const int r = waiting.back();
      waiting.pop_back();
      if (opened.insert(r).second)
        waiting.insert(waiting.end(), data.removals[r].needs.begin(), data.removals[r].needs.end());
    }
  }
  for (const int r : opened) minutes += data.removals[r].minutes;
  return minutes;
}

/// What is due on a day between the first and the last of the stage's bench time is held by the time up to
/// it.
void check_days(const Subject& subject, Findings& findings) {
  for (int s = 0; s < stage_count(subject); ++s) {
    const Stage& stage = subject.data.stages[s];
    for (const int j : subject.stages[s].jobs) {
      const std::optional<Date> day = subject.data.jobs[j].by;
      if (!day || *day < stage.bench || !stage.last || *day >= *stage.last) continue;
      std::int64_t room = 0;
      for (const Mark& mark : stage.marks)
        if (mark.day <= *day) room = std::max(room, mark.minutes);
      const std::int64_t minutes = minutes_due(subject, s, *day);
      if (minutes > room)
        found(findings, Rule::hours, s, j, "job ", j, " is due on day ", day->days, " within stage ", s,
              ", and what is due by then takes ", minutes, " minutes of ", room);
    }
  }
}

/// On the machine at the end of the stage: it was there or came by then, and what takes it off was not done
/// from that stage on.
bool present(const Subject& subject, int carrier, int stage) {
  const Carrier& it = subject.data.carriers[carrier];
  if (it.brought_by < 0) return !any_done_by(subject, it.replaced_by, stage);
  if (!any_done_by(subject, {it.brought_by}, stage)) return false;
  for (const int job : it.replaced_by)
    if (any_done_by(subject, {job}, stage) && stage_of(subject, job) >= stage_of(subject, it.brought_by))
      return false;
  return true;
}

void check_mates(const Subject& subject, int stage, Findings& findings) {
  std::map<int, std::pair<int, int>> first;  // by key: value and carrier met first
  for (int c = 0; c < static_cast<int>(subject.data.carriers.size()); ++c) {
    if (!present(subject, c, stage)) continue;
    for (const Carrier::Mate& mate : subject.data.carriers[c].mates) {
      const auto& [value, carrier] = first.try_emplace(mate.key, mate.value, c).first->second;
      if (value != mate.value)
        found(findings, Rule::mate, stage, mate.key, "at the end of stage ", stage, " key ", mate.key, " is ",
              value, " on carrier ", carrier, " and ", mate.value, " on carrier ", c);
    }
  }
}

void check_clashes(const Subject& subject, int stage, Findings& findings) {
  for (int c = 0; c < static_cast<int>(subject.data.clashes.size()); ++c) {
    const Clash& clash = subject.data.clashes[c];
    if (present(subject, clash.a, stage) && present(subject, clash.b, stage) &&
        !any_done_by(subject, clash.adapted_by, stage))
      found(findings, Rule::clash, stage, c, "at the end of stage ", stage, " carriers ", clash.a, " and ",
            clash.b, " of clash ", c, " are present without an adaptation");
  }
}

}  // namespace

void check_schedule(const Subject& subject, Findings& findings) {
  check_windows(subject, findings);
  check_after(subject, findings);
  check_groups(subject, findings);
  check_hours(subject, findings);
  check_days(subject, findings);
}

void check_fit(const Subject& subject, Findings& findings) {
  for (int s = 0; s < stage_count(subject); ++s) {
    check_mates(subject, s, findings);
    check_clashes(subject, s, findings);
  }
}

void check_tools(const Subject& subject, Findings& findings) {
  for (int s = 0; s < stage_count(subject); ++s)
    if (subject.stages[s].lacks_any)
      found(findings, Rule::tool, s, -1, "stage ", s, " has a set of tools of which none is to be had");
  for (int s = 0; s < stage_count(subject); ++s)
    for (const int t : subject.stages[s].hired)
      if (!subject.data.tools[t].hire)
        found(findings, Rule::tool, s, t, "tool ", t, " is used in stage ", s,
              " but neither free nor bought by then, and cannot be hired");
  for (int t = 0; t < static_cast<int>(subject.data.tools.size()); ++t) {
    const int s = subject.plan.schedule.tool_bought[t];
    if (s < 0) continue;
    const std::vector<int>& used = subject.stages[s].used;
    if (!std::binary_search(used.begin(), used.end(), t))
      found(findings, Rule::tool, s, t, "tool ", t, " is bought for stage ", s, ", which does not use it");
  }
}

}  // namespace fettlefund::budgets::verifier
