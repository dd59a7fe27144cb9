#include <algorithm>

#include "lib/check/check.hpp"
#include "lib/graph/work_order.hpp"
#include "lib/outcome/words.hpp"
#include "lib/staging/choices.hpp"
#include "lib/staging/ids.hpp"

namespace fettlefund::planning {
namespace {

std::string pointer_to(const build::Job& job, const std::string& key = "") {
  return "/jobs/" + job.id + (key.empty() ? "" : "/" + key);
}

/// Minutes of the jobs together with everything they open, each removal once.
std::int64_t minutes_together(const build::Build& build, const std::vector<int>& jobs) {
  const IdTable removals(build.removals);
  std::int64_t minutes = 0;
  std::vector<int> opened;
  for (const int j : jobs) {
    const build::Job& job = build.jobs[static_cast<std::size_t>(j)];
    minutes += job.minutes;
    for (const int r : removals.find_all(job.removals)) opened.push_back(r);
  }
  std::sort(opened.begin(), opened.end());
  opened.erase(std::unique(opened.begin(), opened.end()), opened.end());
  for (const int r : graph::closed_over_needs(build, opened)) {
    const build::Removal& removal = build.removals[static_cast<std::size_t>(r)];
    minutes += removal.minutes_off + removal.minutes_on;
  }
  return minutes;
}

std::int64_t most_minutes(const std::vector<budgets::Stage>& stages, const Window& window) {
  std::int64_t most = 0;
  for (int t = window.earliest; t <= window.latest; ++t) {
    most = std::max(most, stages[static_cast<std::size_t>(t)].minutes);
  }
  return most;
}

void check_window(const build::Job& job, const std::vector<budgets::Stage>& stages, Findings& findings) {
  const Date first = stages.front().bench, last = stages.back().bench;
  if (job.by && *job.by < first) {
    findings.error(job.place, pointer_to(job, "by"), budgets::write_date(*job.by),
                   "a day from the first bench date, " + budgets::write_date(first));
  } else if (job.not_before && *job.not_before > last) {
    const std::string found = budgets::write_date(*job.not_before);
    const std::string expected = "a day up to the last bench date, " + budgets::write_date(last);
    if (job.must) {
      findings.error(job.place, pointer_to(job, "not_before"), found, expected);
    } else {
      findings.warning(job.place, pointer_to(job, "not_before"), found, expected + "; the job is left out");
    }
  } else if (window_of(job, stages).empty()) {
    findings.error(job.place, pointer_to(job, "by"), budgets::write_date(*job.by),
                   "a bench date between not_before, " + budgets::write_date(*job.not_before) + ", and by");
  }
}

/// `jobs` are done in one stage: the job alone, or a group joined by `with`.
void check_fits(const build::Build& build, const std::vector<budgets::Stage>& stages,
                const std::vector<int>& jobs, Findings& findings) {
  Window window{0, static_cast<int>(stages.size()) - 1};
  for (const int j : jobs) {
    const Window own = window_of(build.jobs[static_cast<std::size_t>(j)], stages);
    window = {std::max(window.earliest, own.earliest), std::min(window.latest, own.latest)};
  }
  const build::Job& first = build.jobs[static_cast<std::size_t>(jobs.front())];
  if (window.empty()) {
    if (jobs.size() > 1) {
      findings.error(first.place, pointer_to(first, "with"), "",
                     "a bench date that suits all jobs done with it");
    }
    return;
  }
  const std::int64_t minutes = minutes_together(build, jobs), most = most_minutes(stages, window);
  if (minutes <= most) return;
  const std::string what = jobs.size() > 1          ? " with what is done with it and what they open"
                           : first.removals.empty() ? ""
                                                    : " with what it opens";
  findings.error(first.place, pointer_to(first, "hours"), hours_text(minutes) + what,
                 "at most " + hours_text(most) + ", the longest bench time of a stage it may be done in");
}

}  // namespace

void check_jobs(const build::Build& build, const Staging& staging, Findings& findings) {
  const std::vector<budgets::Stage>& stages = staging.problem.stages;
  for (std::size_t j = 0; j < build.jobs.size(); ++j) {
    check_window(build.jobs[j], stages, findings);
    check_fits(build, stages, {static_cast<int>(j)}, findings);
  }
  for (const std::vector<int>& group : staging.problem.together) check_fits(build, stages, group, findings);
}

}  // namespace fettlefund::planning
