#include <algorithm>
#include <set>

#include "lib/goods/forgotten.hpp"
#include "lib/graph/cautions.hpp"
#include "lib/graph/tag.hpp"
#include "lib/text/nearest.hpp"
#include "lib/text/utf8.hpp"
#include "lib/trade/kinds.hpp"

#include <fmt/format.h>

namespace fettlefund::goods {

namespace {

using build::Build;
using build::Diagnostic;
using build::Rule;
using build::Severity;
using graph::normal_tag;
using Words = std::set<std::string>;

constexpr std::size_t found_at_most = 38;  ///< bytes, without the quotes

text::Names names(const Words& words) { return text::Names({words.begin(), words.end()}); }

/// Whether a tag looks like a slip of the pen for a known one rather than a word of the user's own.
bool is_nearly_known(const std::string& tag, const Words& known) {
  constexpr int slips_at_most = 2;
  const std::string near = text::nearest_name(tag, names(known));
  return !near.empty() && text::spelling_distance(tag, near, slips_at_most) <= slips_at_most;
}

class RuleCheck {
 public:
  explicit RuleCheck(const Build& build) : build_(build) {
    for (const build::Job& job : build.jobs) note(job.id, trade::tags_of(job));
    for (const build::Removal& removal : build.removals) note(removal.id, trade::tags_of(removal));
    for (const Rule* rule : rules_in_force(build)) {
      rule_ids_.insert(rule->id);
      known_tags_.insert(normal_tag(rule->tag));
      goods_words_.insert(normal_tag(rule->article));
      articles_.insert(rule->article);
    }
    for (const graph::TagCaution& entry : graph::caution_table())
      known_tags_.insert(entry.tags.begin(), entry.tags.end());
  }

  std::vector<Diagnostic> run() {
    check_own_rules();
    check_silences();
    check_served_words();
    for (const build::Job& job : build_.jobs) check_tags("jobs", job);
    for (const build::Removal& removal : build_.removals) check_tags("removals", removal);
    return std::move(found_);
  }

 private:
  void note(const Id& owner, const std::vector<std::string>& tags) {
    owners_.insert(owner);
    for (const std::string& tag : tags) {
      used_tags_.insert(normal_tag(tag));
      tags_of_[owner].insert(normal_tag(tag));
    }
  }

  struct Finding {
    Severity severity;
    build::Place place;
    std::string pointer, found, expected;
  };

  void tell(Finding finding, const Words& known) {
    Diagnostic diagnostic;
    diagnostic.severity = finding.severity;
    diagnostic.file = build_.file;
    diagnostic.place = finding.place;
    diagnostic.nearest = text::nearest_name(finding.found, names(known));
    diagnostic.pointer = std::move(finding.pointer);
    diagnostic.found = fmt::format("\"{}\"", text::shortened(finding.found, found_at_most));
    diagnostic.expected = std::move(finding.expected);
    found_.push_back(std::move(diagnostic));
  }

  void check_own_rules() {
    Words seen;
    for (std::size_t i = 0; i < build_.rules.size(); ++i) {
      const Rule& rule = build_.rules[i];
      if (!seen.insert(rule.id).second)
        tell({Severity::error, rule.place, fmt::format("/rules/{}/id", i), rule.id, "each rule's id once"},
             {});
      if (!used_tags_.contains(normal_tag(rule.tag)))
        tell({Severity::warning, rule.place, fmt::format("/rules/{}/tag", i), rule.tag,
              "a tag that a job or removal carries"},
             used_tags_);
    }
  }

  void check_silences() {
    for (std::size_t i = 0; i < build_.silences.size(); ++i) {
      const build::Silence& silence = build_.silences[i];
      const std::string pointer = fmt::format("/silence/{}/", i);
      const bool rule_known =
          rule_ids_.contains(silence.rule) || trade::kind_of_remark(silence.rule) != nullptr;
      const bool owner_known = silence.only_for.empty() || owners_.contains(silence.only_for);
      if (!rule_known)
        tell({Severity::error, silence.place, pointer + "rule", silence.rule, "the id of a rule"}, rule_ids_);
      if (!owner_known)
        tell({Severity::error, silence.place, pointer + "for", silence.only_for, "a job or removal"},
             owners_);
      if (rule_known && owner_known && !quiets(silence))
        tell(
            {Severity::warning, silence.place, pointer + "rule", silence.rule,
             fmt::format("a rule that speaks here; its tag \"{}\" is not carried by {}", tag_of(silence.rule),
                         silence.only_for.empty() ? "any job or removal" : silence.only_for)},
            {});
    }
  }

  std::string tag_of(const Id& rule_id) const {
    if (const trade::Kind* kind = trade::kind_of_remark(rule_id)) return normal_tag(kind->name);
    for (const Rule* rule : rules_in_force(build_)) {
      if (rule->id == rule_id) return normal_tag(rule->tag);
    }
    return {};
  }

  bool quiets(const build::Silence& silence) const {
    const std::string tag = tag_of(silence.rule);
    if (silence.only_for.empty()) return used_tags_.contains(tag);
    const auto tags = tags_of_.find(silence.only_for);
    return tags != tags_of_.end() && tags->second.contains(tag);
  }

  void check_served_words() {
    for (const build::Article& article : build_.articles) {
      for (std::size_t i = 0; i < article.serves.size(); ++i) {
        if (goods_words_.contains(normal_tag(article.serves[i]))) continue;
        tell({Severity::warning, article.place, fmt::format("/articles/{}/serves/{}", article.id, i),
              article.serves[i], "the goods word of a rule"},
             articles_);
      }
    }
  }

  template <typename Owner>
  void check_tags(const char* list, const Owner& owner) {
    for (std::size_t i = 0; i < owner.tags.size(); ++i) {
      const std::string tag = normal_tag(owner.tags[i]);
      if (known_tags_.contains(tag) || !is_nearly_known(tag, known_tags_)) continue;
      tell({Severity::warning, owner.place, fmt::format("/{}/{}/tags/{}", list, owner.id, i), tag,
            "a tag that a rule or caution goes by"},
           known_tags_);
    }
  }

  const Build& build_;
  Words owners_, rule_ids_, used_tags_, known_tags_, goods_words_, articles_;
  std::map<Id, Words> tags_of_;
  std::vector<Diagnostic> found_;
};

}  // namespace

std::vector<Diagnostic> check_rules(const Build& build) { return RuleCheck(build).run(); }

}  // namespace fettlefund::goods
