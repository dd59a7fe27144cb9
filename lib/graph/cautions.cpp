#include "lib/graph/cautions.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "lib/graph/tag.hpp"
#include "lib/text/utf8.hpp"
#include "lib/trade/kinds.hpp"

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

/// A caution of the user's own in one short line: its first sentence or line, cut where that is long.
std::string brief_of(const std::string& text) {
  constexpr std::size_t most = 120;
  std::string line = text.substr(0, text.find_first_of("\r\n"));
  const std::size_t stop = line.find(". ");
  if (stop != std::string::npos) line.resize(stop + 1);
  if (line.size() <= most) return line;
  std::size_t cut = line.rfind(' ', most - 4);
  if (cut == std::string::npos || cut == 0) {
    cut = text::whole_characters(line, most - 4);
  }
  return line.substr(0, cut) + " ...";
}

/// Puts the lines at the first step of each owner in turn.
class CautionPlacer {
 public:
  explicit CautionPlacer(std::vector<WorkStep>& order) : order_(order) {}

  void place() {
    for (WorkStep& step : order_) {
      const auto owner = std::pair(step.of_job, step.of);
      if (!begun_.insert(owner).second) continue;
      const auto lines = lines_.find(owner);
      if (lines != lines_.end()) place(step, lines->second);
    }
  }

  template <typename Owner>
  void add(const Owner& owner, bool job, const std::string& brief) {
    lines_[{job, owner.id}].push_back(brief);
  }

 private:
  void place(WorkStep& step, const std::vector<std::string>& lines) {
    for (const std::string& line : lines) {
      const bool fresh = told_.insert(line).second;
      if (fresh || step.of_job) step.cautions.push_back(line);
    }
  }

  std::vector<WorkStep>& order_;
  std::map<std::pair<bool, Id>, std::vector<std::string>> lines_;
  std::set<std::pair<bool, Id>> begun_;
  std::set<std::string> told_;
};

template <typename Owner>
void add_lines(CautionPlacer& placer, const Owner& owner, bool job) {
  std::set<std::string> tags;
  add_tags(tags, owner.tags);
  for (const TagCaution& entry : caution_table()) {
    if (called_for(entry, tags)) placer.add(owner, job, entry.caution.brief);
  }
}

}  // namespace

void place_cautions(const build::Build& build, const std::vector<int>& jobs, const std::vector<int>& removals,
                    std::vector<WorkStep>& order) {
  CautionPlacer placer(order);
  for (const int r : removals) add_lines(placer, build.removals[static_cast<std::size_t>(r)], false);
  for (const int j : jobs) {
    const build::Job& job = build.jobs[static_cast<std::size_t>(j)];
    add_lines(placer, job, true);
    for (const std::string& own : job.cautions) placer.add(job, true, brief_of(own));
  }
  placer.place();
}

std::vector<Caution> cautions_for(const build::Build& build, const std::vector<int>& jobs,
                                  const std::vector<int>& removals) {
  std::set<std::string> tags;
  for (const int j : jobs) add_tags(tags, trade::tags_of(build.jobs[j]));
  for (const int r : removals) add_tags(tags, trade::tags_of(build.removals[r]));
  std::vector<Caution> cautions;
  for (const TagCaution& entry : caution_table()) {
    if (called_for(entry, tags)) cautions.push_back(entry.caution);
  }
  std::set<std::string> texts;
  for (const int j : jobs) {
    const trade::Kind* kind = trade::find_kind(build.jobs[j].kind);
    if (kind == nullptr) continue;
    for (const trade::Remark& mind : kind->mind) {
      if (trade::is_silenced(build, mind.id, build.jobs[j].id)) continue;
      if (texts.insert(mind.text).second) cautions.push_back({mind.text, "common practice, no source"});
    }
  }
  for (const int j : jobs) {
    for (const std::string& text : build.jobs[j].cautions) {
      if (texts.insert(text).second)
        cautions.push_back({text, fmt::format("the build file, {}", build.jobs[j].name), brief_of(text)});
    }
  }
  return cautions;
}

}  // namespace fettlefund::graph
