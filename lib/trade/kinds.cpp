#include "lib/trade/kinds.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "lib/graph/tag.hpp"
#include "lib/trade/data.hpp"
#include "lib/trade/read_kinds.hpp"

namespace fettlefund::trade {
namespace {

std::vector<Kind> shipped() {
  Knowledge known = read_knowledge(data_files());
  std::string faults;
  for (const build::Diagnostic& one : known.diagnostics) faults += build::to_text(one) + "\n";
  if (!faults.empty()) throw std::logic_error("the shipped kinds of work are at fault:\n" + faults);
  return std::move(known.kinds);
}

std::vector<std::string> with_cautions(const std::vector<std::string>& words) {
  std::set<std::string> tags;
  for (const std::string& word : words) {
    const std::string tag = graph::normal_tag(word);
    tags.insert(tag);
    const Kind* kind = find_kind(tag);
    if (kind == nullptr) continue;
    for (const std::string& caution : kind->cautions) tags.insert(graph::normal_tag(caution));
  }
  return {tags.begin(), tags.end()};
}

}  // namespace

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> all = shipped();
  return all;
}

const Kind* find_kind(std::string_view name) {
  const auto at =
      std::lower_bound(kinds().begin(), kinds().end(), name,
                       [](const Kind& kind, std::string_view wanted) { return kind.name < wanted; });
  return at != kinds().end() && at->name == name ? &*at : nullptr;
}

bool known_to(const Kind& kind, std::string_view trade) {
  return kind.trade == trade || std::find(kind.also.begin(), kind.also.end(), trade) != kind.also.end();
}

const std::vector<std::string>& trades() {
  static const std::vector<std::string> all = {"motorcycle", "van", "bicycle", "boat"};
  return all;
}

bool is_tool(const std::string& goods_word) {
  static const std::set<std::string> tools = [] {
    std::set<std::string> words;
    for (const Kind& kind : kinds())
      for (const Line& line : kind.lines)
        if (line.tool) words.insert(line.article);
    return words;
  }();
  return tools.contains(goods_word);
}

const Kind* kind_of_remark(const Id& id) {
  static const std::map<Id, const Kind*> owners = [] {
    std::map<Id, const Kind*> made;
    for (const Kind& kind : kinds()) {
      for (const Remark& check : kind.checks) made[check.id] = &kind;
      for (const Remark& mind : kind.mind) made[mind.id] = &kind;
    }
    return made;
  }();
  const auto found = owners.find(id);
  return found == owners.end() ? nullptr : found->second;
}

bool is_silenced(const build::Build& build, const Id& rule, const Id& owner) {
  return std::any_of(build.silences.begin(), build.silences.end(), [&](const build::Silence& silence) {
    return silence.rule == rule && (silence.only_for.empty() || silence.only_for == owner);
  });
}

std::vector<std::string> checks_of(const build::Build& build, const build::Job& job) {
  std::vector<std::string> texts;
  const Kind* kind = find_kind(job.kind);
  if (kind == nullptr) return texts;
  for (const Remark& check : kind->checks) {
    const bool listed = std::any_of(job.checks.begin(), job.checks.end(), [&](const build::Check& own) {
      return graph::normal_tag(own.what) == graph::normal_tag(check.text);
    });
    if (!listed && !is_silenced(build, check.id, job.id)) texts.push_back(check.text);
  }
  return texts;
}

std::vector<std::string> tags_of(const build::Job& job) {
  std::vector<std::string> words = job.tags;
  if (!job.kind.empty()) words.push_back(job.kind);
  return with_cautions(words);
}

std::vector<std::string> tags_of(const build::Removal& removal) { return with_cautions(removal.tags); }

}  // namespace fettlefund::trade
