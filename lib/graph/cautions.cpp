#include "lib/graph/cautions.hpp"

#include <algorithm>
#include <set>

#include "lib/graph/tag.hpp"

#include <fmt/format.h>

namespace fettlefund::graph {

namespace {

void add_tags(std::set<std::string>& all, const std::vector<std::string>& tags) {
  for (const std::string& tag : tags) all.insert(normal_tag(tag));
}

bool called_for(const TagCaution& entry, const std::set<std::string>& tags) {
  return std::any_of(entry.tags.begin(), entry.tags.end(),
                     [&](const std::string& tag) { return tags.contains(tag); });
}

}  // namespace

std::vector<Caution> cautions_for(const build::Build& build, const std::vector<int>& jobs,
                                  const std::vector<int>& removals) {
  std::set<std::string> tags;
  for (const int j : jobs) add_tags(tags, build.jobs[j].tags);
  for (const int r : removals) add_tags(tags, build.removals[r].tags);
  std::vector<Caution> cautions;
  for (const TagCaution& entry : caution_table()) {
    if (called_for(entry, tags)) cautions.push_back(entry.caution);
  }
  std::set<std::string> texts;
  for (const int j : jobs) {
    for (const std::string& text : build.jobs[j].cautions) {
      if (texts.insert(text).second)
        cautions.push_back({text, fmt::format("the build file, {}", build.jobs[j].name)});
    }
  }
  return cautions;
}

}  // namespace fettlefund::graph
