#include "lib/goods/forgotten.hpp"

#include <algorithm>
#include <set>

#include "lib/goods/packs.hpp"
#include "lib/graph/tag.hpp"

namespace fettlefund::goods {

namespace {

using build::Article;
using build::Build;
using build::Rule;
using graph::normal_tag;

bool serves(const Article& article, const std::string& goods_word) {
  const std::string word = normal_tag(goods_word);
  return normal_tag(article.id) == word ||
         std::any_of(article.serves.begin(), article.serves.end(),
                     [&](const Id& served) { return normal_tag(served) == word; });
}

bool is_on_hand(const Build& build, const Article& article) {
  return std::any_of(build.on_hand.begin(), build.on_hand.end(),
                     [&](const build::OnHand& lot) { return lot.article == article.id; });
}

/// A job or removal, as far as the rules care.
struct Asker {
  NeededBy who;
  std::set<std::string> tags;
  std::set<Id> lists;  ///< articles it lists itself
};

template <typename Owner>
Asker asker(const Owner& owner, const std::vector<build::Use>& uses, bool removal) {
  Asker result{{owner.id, owner.name, removal}, {}, {owner.tools.begin(), owner.tools.end()}};
  for (const std::string& tag : owner.tags) result.tags.insert(normal_tag(tag));
  for (const build::Use& use : uses) result.lists.insert(use.article);
  return result;
}

bool is_silenced(const Build& build, const Rule& rule, const Id& owner) {
  return std::any_of(build.silences.begin(), build.silences.end(), [&](const build::Silence& silence) {
    return silence.rule == rule.id && (silence.only_for.empty() || silence.only_for == owner);
  });
}

/// The articles of the build that serve a goods word: the one with that id first, then file order.
std::vector<int> serving(const Build& build, const std::string& goods_word) {
  std::vector<int> indices;
  for (std::size_t i = 0; i < build.articles.size(); ++i) {
    if (serves(build.articles[i], goods_word)) indices.push_back(static_cast<int>(i));
  }
  std::stable_partition(indices.begin(), indices.end(),
                        [&](int i) { return normal_tag(build.articles[i].id) == normal_tag(goods_word); });
  return indices;
}

bool is_quiet(const Build& build, const Asker& asker, const std::vector<int>& serving) {
  return std::any_of(serving.begin(), serving.end(), [&](int i) {
    const Article& article = build.articles[i];
    const bool owned = article.kind == build::ArticleKind::tool && is_on_hand(build, article);
    return owned || asker.lists.contains(article.id);
  });
}

int first_to_be_had(const Build& build, const std::vector<int>& serving) {
  const auto found = std::find_if(serving.begin(), serving.end(), [&](int i) {
    const Article& article = build.articles[i];
    if (article.kind == build::ArticleKind::tool) return false;
    return !article.offers.empty() || is_on_hand(build, article);
  });
  return found == serving.end() ? -1 : *found;
}

std::string name_of(const Build& build, const Rule& rule, const std::vector<int>& serving) {
  if (!rule.name.empty()) return rule.name;
  return serving.empty() ? rule.article : build.articles[serving.front()].name;
}

ForgottenNeed need_of(const Build& build, const Asker& asker, const Rule& rule,
                      const std::vector<int>& serving) {
  ForgottenNeed need;
  need.article = first_to_be_had(build, serving);
  Reminder& reminder = need.reminder;
  reminder.key = rule.id + "@" + asker.who.id;
  reminder.rule = rule.id;
  reminder.why = rule.why;
  reminder.needed_by = asker.who;
  reminder.tag = rule.tag;
  reminder.article = name_of(build, rule, serving);
  reminder.amount = rule.amount;
  reminder.unit = rule.unit;
  reminder.bought = need.article >= 0;
  if (!reminder.bought) return need;
  const Article& article = build.articles[need.article];
  reminder.article = article.name;
  reminder.amount = in_unit(rule.amount, rule.unit, article.unit).value_or(article.pack);
  reminder.unit = article.unit;
  return need;
}

std::vector<ForgottenNeed> forgotten(const Build& build, const Asker& asker) {
  std::vector<ForgottenNeed> needs;
  std::set<std::string> asked;
  for (const Rule* rule : rules_in_force(build)) {
    if (!asker.tags.contains(normal_tag(rule->tag)) || is_silenced(build, *rule, asker.who.id)) continue;
    if (!asked.insert(normal_tag(rule->article)).second) continue;
    const std::vector<int> candidates = serving(build, rule->article);
    if (!is_quiet(build, asker, candidates)) needs.push_back(need_of(build, asker, *rule, candidates));
  }
  return needs;
}

}  // namespace

std::vector<const Rule*> rules_in_force(const Build& build) {
  std::vector<const Rule*> rules;
  std::set<Id> shipped;
  for (const Rule& rule : shipped_rules()) {
    const auto own = std::find_if(build.rules.begin(), build.rules.end(),
                                  [&](const Rule& other) { return other.id == rule.id; });
    rules.push_back(own == build.rules.end() ? &rule : &*own);
    shipped.insert(rule.id);
  }
  for (const Rule& rule : build.rules) {
    if (!shipped.contains(rule.id)) rules.push_back(&rule);
  }
  return rules;
}

std::vector<ForgottenNeed> forgotten_of_job(const Build& build, int job) {
  const build::Job& owner = build.jobs[job];
  return forgotten(build, asker(owner, owner.uses, false));
}

std::vector<ForgottenNeed> forgotten_of_removal(const Build& build, int removal) {
  const build::Removal& owner = build.removals[removal];
  if (owner.for_good) return {};  // reminders are of what goes back on
  return forgotten(build, asker(owner, owner.one_use, true));
}

}  // namespace fettlefund::goods
