#include "lib/goods/forgotten.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "lib/goods/packs.hpp"
#include "lib/graph/tag.hpp"
#include "lib/graph/work_order.hpp"
#include "lib/trade/kinds.hpp"

#include <fmt/format.h>

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
  std::set<Id> lists;               ///< articles it lists itself
  const build::Job* job = nullptr;  ///< whose removals list some too
};

Asker asker_of(const build::Job& job) {
  Asker result{{job.id, job.name, false}, {}, {job.tools.begin(), job.tools.end()}, &job};
  for (std::string& tag : trade::tags_of(job)) result.tags.insert(std::move(tag));
  for (const build::Use& use : job.uses) result.lists.insert(use.article);
  return result;
}

Asker asker_of(const build::Removal& removal) {
  Asker result{{removal.id, removal.name, true}, {}, {removal.tools.begin(), removal.tools.end()}};
  for (std::string& tag : trade::tags_of(removal)) result.tags.insert(std::move(tag));
  for (const build::Use& use : removal.one_use) result.lists.insert(use.article);
  return result;
}

/// Adds what the removals of the job, and those that they need, list.
void add_lists_of_removals(const Build& build, Asker& asker) {
  if (asker.job == nullptr) return;
  std::vector<int> opened;
  for (std::size_t r = 0; r < build.removals.size(); ++r) {
    const auto& needed = asker.job->removals;
    if (std::find(needed.begin(), needed.end(), build.removals[r].id) != needed.end())
      opened.push_back(static_cast<int>(r));
  }
  for (const int r : graph::closed_over_needs(build, opened)) {
    const build::Removal& removal = build.removals[static_cast<std::size_t>(r)];
    for (const build::Use& use : removal.one_use) asker.lists.insert(use.article);
    asker.lists.insert(removal.tools.begin(), removal.tools.end());
  }
  asker.job = nullptr;
}

/// The articles of the build that serve a goods word for this one: those that name it, else those that name
/// nobody; in file order.
std::vector<int> serving(const Build& build, const std::string& goods_word, const Id& owner) {
  std::vector<int> named, any;
  for (std::size_t i = 0; i < build.articles.size(); ++i) {
    const Article& article = build.articles[i];
    if (!serves(article, goods_word)) continue;
    if (article.serves_for.empty()) any.push_back(static_cast<int>(i));
    if (std::find(article.serves_for.begin(), article.serves_for.end(), owner) != article.serves_for.end())
      named.push_back(static_cast<int>(i));
  }
  return named.empty() ? any : named;
}

/// Whether one that serves stands in the lists, whomever it names, or is an owned tool.
bool is_quiet(const Build& build, const Asker& asker, const std::string& goods_word) {
  return std::any_of(build.articles.begin(), build.articles.end(), [&](const Article& article) {
    if (!serves(article, goods_word)) return false;
    const bool owned = article.kind == build::ArticleKind::tool && is_on_hand(build, article);
    return owned || asker.lists.contains(article.id);
  });
}

bool to_be_had(const Build& build, int index) {
  const Article& article = build.articles[static_cast<std::size_t>(index)];
  if (article.kind == build::ArticleKind::tool) return false;
  return !article.offers.empty() || is_on_hand(build, article);
}

std::string name_of(const Build& build, const Rule& rule, const std::vector<int>& serving) {
  if (!rule.name.empty()) return rule.name;
  return serving.empty() ? rule.article : build.articles[serving.front()].name;
}

ForgottenNeed need_of(const Build& build, const Asker& asker, const Rule& rule) {
  const std::vector<int> candidates = serving(build, rule.article, asker.who.id);
  std::vector<int> had;
  std::copy_if(candidates.begin(), candidates.end(), std::back_inserter(had),
               [&](int i) { return to_be_had(build, i); });
  ForgottenNeed need;
  if (had.size() == 1) need.article = had.front();
  if (had.size() > 1) need.candidates = had;
  Reminder& reminder = need.reminder;
  reminder.key = rule.id + "@" + asker.who.id;
  reminder.rule = rule.id;
  reminder.why = rule.why;
  reminder.needed_by = asker.who;
  reminder.tag = rule.tag;
  reminder.article = name_of(build, rule, candidates);
  reminder.amount = rule.amount;
  reminder.unit = rule.unit;
  reminder.used_up = !trade::is_tool(rule.article);
  reminder.bought = need.article >= 0;
  if (!reminder.bought) return need;
  const Article& article = build.articles[static_cast<std::size_t>(need.article)];
  reminder.article = article.name;
  reminder.amount = in_unit(rule.amount, rule.unit, article.unit).value_or(article.pack);
  reminder.unit = article.unit;
  return need;
}

/// Where the shipped rules stand, by tag and by id.
struct Shelf {
  std::multimap<std::string, std::size_t> by_tag;
  std::map<Id, std::size_t> by_id;
};

const Shelf& shelf() {
  static const Shelf made = [] {
    Shelf all;
    for (std::size_t i = 0; i < shipped_rules().size(); ++i) {
      all.by_tag.emplace(normal_tag(shipped_rules()[i].tag), i);
      all.by_id[shipped_rules()[i].id] = i;
    }
    return all;
  }();
  return made;
}

/// The rules in force that the tags call for, in their order.
std::vector<const Rule*> rules_for(const Build& build, const std::set<std::string>& tags) {
  std::map<std::size_t, const Rule*> in_order;
  for (const std::string& tag : tags) {
    const auto [first, last] = shelf().by_tag.equal_range(tag);
    for (auto at = first; at != last; ++at) in_order[at->second] = &shipped_rules()[at->second];
  }
  for (std::size_t i = 0; i < build.rules.size(); ++i) {
    const auto shipped = shelf().by_id.find(build.rules[i].id);
    const bool overrides = shipped != shelf().by_id.end();
    const std::size_t place = overrides ? shipped->second : shipped_rules().size() + i;
    if (tags.contains(normal_tag(build.rules[i].tag)))
      in_order[place] = &build.rules[i];
    else
      in_order.erase(place);
  }
  std::vector<const Rule*> rules;
  for (const auto& [place, rule] : in_order) rules.push_back(rule);
  return rules;
}

std::vector<ForgottenNeed> forgotten(const Build& build, Asker asker) {
  std::vector<ForgottenNeed> needs;
  std::set<std::string> asked;
  for (const Rule* rule : rules_for(build, asker.tags)) {
    if (trade::is_silenced(build, rule->id, asker.who.id)) continue;
    if (!asked.insert(normal_tag(rule->article)).second) continue;
    add_lists_of_removals(build, asker);
    if (!is_quiet(build, asker, rule->article)) needs.push_back(need_of(build, asker, *rule));
  }
  return needs;
}

}  // namespace

std::string who_needs(const Reminder& reminder) {
  std::string text = reminder.needed_by.name;
  constexpr std::size_t named = 3;
  for (std::size_t i = 0; i < reminder.also.size(); ++i) {
    const bool last = i + 1 == reminder.also.size();
    if (i + 1 == named && !last) return text + fmt::format(" and {} more", reminder.also.size() - i);
    text += (last ? " and " : ", ") + reminder.also[i].name;
  }
  return text;
}

std::vector<const Rule*> rules_in_force(const Build& build) {
  std::vector<const Rule*> rules;
  for (const Rule& rule : shipped_rules()) rules.push_back(&rule);
  for (const Rule& rule : build.rules) {
    const auto shipped = shelf().by_id.find(rule.id);
    if (shipped == shelf().by_id.end())
      rules.push_back(&rule);
    else
      rules[shipped->second] = &rule;
  }
  return rules;
}

std::vector<ForgottenNeed> forgotten_of_job(const Build& build, int job) {
  return forgotten(build, asker_of(build.jobs[static_cast<std::size_t>(job)]));
}

std::vector<ForgottenNeed> forgotten_of_removal(const Build& build, int removal) {
  const build::Removal& owner = build.removals[static_cast<std::size_t>(removal)];
  if (owner.for_good) return {};  // reminders are of what goes back on
  return forgotten(build, asker_of(owner));
}

}  // namespace fettlefund::goods
