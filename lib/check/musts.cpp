#include <algorithm>

#include "budgets/contradiction.hpp"
#include "lib/check/check.hpp"
#include "lib/outcome/must_reasons.hpp"
#include "lib/outcome/words.hpp"
#include "lib/questions/least.hpp"
#include "lib/staging/fit.hpp"

namespace fettlefund::planning {

void check_musts(const build::Build& build, const Staging& staging, Findings& findings) {
  const budgets::Problem problem(staging.problem);
  const std::vector<int> musts = budgets::contradicting_musts(problem);
  if (musts.empty()) return;
  const std::vector<int> demanded = with_what_they_ask(problem.data(), musts);
  int last = problem.stage_count() - 1;
  std::vector<std::string> ids;
  for (const int j : musts) {
    last = std::min(last, problem.latest(j));
    ids.push_back("'" + build.jobs[static_cast<std::size_t>(j)].id + "'");
  }
  std::vector<std::string> reasons = must_reasons(build, problem, demanded);
  const std::vector<std::string> misfits = fit_reasons(build, problem, demanded, last);
  reasons.insert(reasons.end(), misfits.begin(), misfits.end());
  std::string expected = "musts that can be done, whatever money and hours there are";
  for (std::size_t i = 0; i < reasons.size(); ++i) expected += (i == 0 ? ": " : " ") + reasons[i];
  if (!reasons.empty()) expected.pop_back();  // diagnostics end without a full stop
  const build::Job& first = build.jobs[static_cast<std::size_t>(musts.front())];
  findings.warning(first.place, "/jobs/" + first.id + "/must", list_text(ids), expected);
}

}  // namespace fettlefund::planning
