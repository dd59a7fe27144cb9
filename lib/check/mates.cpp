#include <map>

#include "lib/check/check.hpp"
#include "lib/drive/links.hpp"
#include "lib/staging/ids.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

/// A job and the articles it uses must say the same of each mate.
void check_job_mates(const build::Build& build, const IdTable& articles, const build::Job& job,
                     Findings& findings) {
  std::map<std::string, std::pair<std::string, std::string>> said;  // key -> value, who says it
  for (const auto& [key, value] : job.mates) said[key] = {value, "the job itself"};
  for (const build::Use& use : uses_of(build, job)) {
    const int a = articles.find(use.article);
    if (a < 0) continue;
    for (const auto& [key, value] : build.articles[static_cast<std::size_t>(a)].mates) {
      const auto [place, fresh] = said.emplace(key, std::make_pair(value, "'" + use.article + "'"));
      if (fresh || place->second.first == value) continue;
      findings.error(job.place, "/jobs/" + job.id + "/uses", key + " " + value + " of '" + use.article + "'",
                     key + " " + place->second.first + ", as " + place->second.second + " has");
    }
  }
}

/// Nobody has to fit what already disagrees; but then no stage can end whole until it is gone.
void check_fitted_mates(const build::Build& build, Findings& findings) {
  std::map<std::string, const build::Fitted*> first_with;
  for (const build::Fitted& fitted : build.fitted) {
    for (const auto& [key, value] : fitted.mates) {
      const auto [place, fresh] = first_with.emplace(key, &fitted);
      if (fresh || place->second->mates.at(key) == value) continue;
      findings.error(fitted.place, "/fitted/" + fitted.id + "/mates", key + " " + value,
                     key + " " + place->second->mates.at(key) + ", as '" + place->second->id +
                         "' has; both are on the machine from the start");
    }
  }
}

/// Two fitted things that clash would have to be parted before the first stage ends.
void check_fitted_clashes(const build::Build& build, const IdTable& fitted, Findings& findings) {
  for (std::size_t c = 0; c < build.clashes.size(); ++c) {
    const build::Clash& clash = build.clashes[c];
    if (fitted.find(clash.a) < 0 || fitted.find(clash.b) < 0) continue;
    findings.error(clash.place, fmt::format("/clashes/{}/between", c),
                   fmt::format("'{}' and '{}'", clash.a, clash.b),
                   "things that are not both on the machine from the start");
  }
}

}  // namespace

void check_mates(const build::Build& build, Findings& findings) {
  const IdTable articles(build.articles);
  for (const build::Job& job : build.jobs) check_job_mates(build, articles, job, findings);
  check_fitted_mates(build, findings);
  check_fitted_clashes(build, IdTable(build.fitted), findings);
}

}  // namespace fettlefund::planning
