#include "lib/graph/step_time.hpp"

#include <map>
#include <utility>

namespace fettlefund::graph {
namespace {

std::int64_t minutes_of(const build::Build& build, const Origin& from) {
  const auto at = static_cast<std::size_t>(from.index);
  if (from.part == Part::work) return build.jobs[at].minutes;
  return from.part == Part::off ? build.removals[at].minutes_off : build.removals[at].minutes_on;
}

}  // namespace

void share_time(const build::Build& build, const std::vector<Origin>& origins, std::vector<WorkStep>& steps) {
  std::map<std::pair<Part, int>, int> count, so_far;
  for (const Origin& from : origins) ++count[{from.part, from.index}];
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::pair<Part, int> act{origins[i].part, origins[i].index};
    const std::int64_t minutes = minutes_of(build, origins[i]), all = count[act];
    const std::int64_t begin = so_far[act]++;
    steps[i].act = static_cast<Act>(act.first);
    steps[i].minutes = minutes * (begin + 1) / all - minutes * begin / all;
  }
}

}  // namespace fettlefund::graph
