#include "lib/graph/index.hpp"

namespace fettlefund::graph {

Index::Index(const build::Build& build) {
  for (std::size_t i = 0; i < build.jobs.size(); ++i) jobs_.emplace(build.jobs[i].id, static_cast<int>(i));
  for (std::size_t i = 0; i < build.removals.size(); ++i)
    removals_.emplace(build.removals[i].id, static_cast<int>(i));
}

std::vector<int> Index::found(const std::vector<build::Id>& ids, const Table& table) {
  std::vector<int> indices;
  for (const build::Id& id : ids) {
    const auto entry = table.find(id);
    if (entry != table.end()) indices.push_back(entry->second);
  }
  return indices;
}

Arrows removal_needs(const build::Build& build, const Index& index) {
  Arrows arrows;
  for (const build::Removal& removal : build.removals) arrows.push_back(index.removals(removal.needs));
  return arrows;
}

Arrows job_after(const build::Build& build, const Index& index) {
  Arrows arrows;
  for (const build::Job& job : build.jobs) arrows.push_back(index.jobs(job.after));
  return arrows;
}

Arrows reversed(const Arrows& arrows) {
  Arrows back(arrows.size());
  for (std::size_t from = 0; from < arrows.size(); ++from) {
    for (const int to : arrows[from]) back[to].push_back(static_cast<int>(from));
  }
  return back;
}

}  // namespace fettlefund::graph
