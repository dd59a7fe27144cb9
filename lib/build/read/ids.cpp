#include <algorithm>
#include <tuple>

#include "lib/build/read/sections.hpp"

#include <fmt/format.h>

/// Walks over the tree before it is checked: nothing here may trust its shape.
namespace fettlefund::build {
namespace {

using Words = std::vector<std::string>;

const std::vector<Member>& entries_of(const Node& root, std::string_view section) {
  static const std::vector<Member> none;
  const Node* node = root.find(section);
  return node == nullptr ? none : node->members;
}

Words keys_in(const Node& root, std::string_view section) {
  Words words;
  for (const Member& entry : entries_of(root, section)) words.push_back(entry.key);
  return words;
}

Words joined(Words a, const Words& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

bool is_tool(const Node& article) {
  const Node* kind = article.find("kind");
  return kind != nullptr && kind->text == "tool";
}

Words articles_of_kind(const Node& root, bool tools) {
  Words words;
  for (const Member& entry : entries_of(root, "articles"))
    if (is_tool(entry.value) == tools) words.push_back(entry.key);
  return words;
}

void add_step_ids(const Node& entry, std::string_view list, std::vector<const Node*>& ids) {
  const Node* steps = entry.find(list);
  if (steps == nullptr) return;
  for (const Node& step : steps->items) {
    const Node* id = step.find("id");
    if (id != nullptr && id->kind == NodeKind::text) ids.push_back(id);
  }
}

std::vector<const Node*> step_ids(const Node& root) {
  std::vector<const Node*> ids;
  for (const Member& job : entries_of(root, "jobs")) add_step_ids(job.value, "steps", ids);
  for (const Member& removal : entries_of(root, "removals")) {
    add_step_ids(removal.value, "off", ids);
    add_step_ids(removal.value, "on", ids);
  }
  return ids;
}

Words texts_of(const std::vector<const Node*>& nodes) {
  Words words;
  for (const Node* node : nodes) words.push_back(node->text);
  return words;
}

Words renewing_jobs(const Node& root) {
  Words words;
  for (const Member& entry : entries_of(root, "fitted")) {
    const Node* jobs = entry.value.find("replaced_by");
    const bool ages = entry.value.find("life_years") != nullptr || entry.value.find("life_months") != nullptr;
    if (jobs == nullptr || !ages) continue;
    for (const Node& job : jobs->items) words.push_back(job.text);
  }
  return words;
}

}  // namespace

Ids collect_ids(const Node& root) {
  const Words jobs = keys_in(root, "jobs"), removals = keys_in(root, "removals"),
              fitted = keys_in(root, "fitted");
  Ids ids;
  ids.suppliers = text::Names(keys_in(root, "suppliers"));
  ids.articles = text::Names(keys_in(root, "articles"));
  ids.goods = text::Names(articles_of_kind(root, false));
  ids.tools = text::Names(articles_of_kind(root, true));
  ids.removals = text::Names(removals);
  ids.jobs = text::Names(jobs);
  ids.fitted = text::Names(fitted);
  ids.steps = text::Names(texts_of(step_ids(root)));
  ids.jobs_or_fitted = text::Names(joined(jobs, fitted));
  ids.jobs_or_removals = text::Names(joined(jobs, removals));
  ids.renewing_jobs = text::Names(renewing_jobs(root));
  return ids;
}

void check_step_ids(const Node& root, Findings& findings) {
  std::vector<const Node*> ids = step_ids(root);
  std::sort(ids.begin(), ids.end(), [](const Node* a, const Node* b) {
    return std::tie(a->text, a->span.begin) < std::tie(b->text, b->span.begin);
  });
  const Node* first = nullptr;
  for (const Node* id : ids) {
    if (first == nullptr || first->text != id->text)
      first = id;
    else
      findings.error(id->span, fmt::format("an id that no other step has; this one stands in line {} already",
                                           first->span.place.line));
  }
}

}  // namespace fettlefund::build
