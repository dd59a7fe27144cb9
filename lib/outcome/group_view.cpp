#include <algorithm>
#include <map>
#include <set>

#include "lib/outcome/view.hpp"
#include "lib/outcome/words.hpp"

namespace fettlefund::planning {
namespace {

/// Is the carrier on the machine at the end of the stage?
bool present(const View& view, const budgets::Carrier& carrier, int stage) {
  const int since = carrier.brought_by < 0 ? 0 : view.stage_of(carrier.brought_by);
  if (since < 0 || since > stage) return false;
  return std::none_of(carrier.replaced_by.begin(), carrier.replaced_by.end(),
                      [&](int j) { return view.stage_of(j) >= since && view.stage_of(j) <= stage; });
}

int value_of(const budgets::Carrier& carrier, int key) {
  for (const budgets::Carrier::Mate& mate : carrier.mates) {
    if (mate.key == key) return mate.value;
  }
  return -1;
}

/// The value all agree on at the end of the stage, or -1 where nothing on the machine has the key.
int agreed(const View& view, int key, int stage) {
  for (const budgets::Carrier& carrier : view.problem.data().carriers) {
    if (const int value = value_of(carrier, key); value >= 0 && present(view, carrier, stage)) return value;
  }
  return -1;
}

/// Jobs of the stage that bring or take off something with the key.
std::vector<int> jobs_touching(const View& view, int key, int stage) {
  std::set<int> jobs;
  for (const budgets::Carrier& carrier : view.problem.data().carriers) {
    if (value_of(carrier, key) < 0) continue;
    if (carrier.brought_by >= 0) jobs.insert(carrier.brought_by);
    jobs.insert(carrier.replaced_by.begin(), carrier.replaced_by.end());
  }
  std::vector<int> here;
  for (const int j : jobs) {
    if (view.stage_of(j) == stage) here.push_back(j);
  }
  return here;
}

void add_mates(std::vector<std::string>& groups, const View& view, int stage) {
  const Machine& machine = view.staging.machine;
  for (std::size_t k = 0; k < machine.keys.size(); ++k) {
    const int key = static_cast<int>(k);
    const int before = agreed(view, key, stage - 1), after = agreed(view, key, stage);
    const std::vector<int> jobs = jobs_touching(view, key, stage);
    if (before < 0 || after < 0 || before == after || jobs.size() < 2) continue;
    const auto& words = machine.values[k];
    groups.push_back(list_text(names_of(view.build, jobs)) + " share this stage: " + machine.keys[k] +
                     " changes from " + words[static_cast<std::size_t>(before)] + " to " +
                     words[static_cast<std::size_t>(after)] + " for all of them at once.");
  }
}

void add_together(std::vector<std::string>& groups, const View& view, int stage) {
  for (const std::vector<int>& group : view.problem.data().together) {
    if (view.stage_of(group.front()) != stage) continue;
    groups.push_back(list_text(names_of(view.build, group)) +
                     " share this stage: the build file asks for them to be done together.");
  }
}

}  // namespace

std::vector<std::string> names_of(const build::Build& build, const std::vector<int>& jobs) {
  std::vector<std::string> names;
  for (const int j : jobs) names.push_back(build.jobs[static_cast<std::size_t>(j)].name);
  return names;
}

std::vector<std::string> groups_of(const View& view, int stage) {
  std::vector<std::string> groups;
  add_mates(groups, view, stage);
  add_together(groups, view, stage);
  return groups;
}

}  // namespace fettlefund::planning
