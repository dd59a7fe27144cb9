#include <algorithm>

#include "lib/build/read/sections.hpp"
#include "lib/trade/kinds.hpp"
#include "lib/trade/lookup.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

constexpr auto removal_ids = set_of(Reference{&Ids::removals, "a removal"});
constexpr auto job_ids = set_of(Reference{&Ids::jobs, "a job"});

/// A tool's id; an article of another kind is told so.
std::optional<Id> read_tool(Context& context, const Node& node) {
  if (node.kind == NodeKind::text && context.ids.goods.has(node.text)) {
    context.findings.error(node.span,
                           "a tool; parts and consumables are named under \"uses\" or \"one_use\"");
    return {};
  }
  return Reference{&Ids::tools, "a tool"}(context, node);
}

/// Where a use names its article: it may be nothing but that name.
const Span& article_span(const Node& use) {
  const Node* article = use.find("article");
  return article == nullptr ? use.span : article->span;
}

/// Uses of articles; one that is listed twice was probably meant as one amount.
std::optional<std::vector<Use>> read_uses(Context& context, const Node& node) {
  auto uses = list_of(read_use)(context, node);
  if (!uses) return {};
  std::set<Id> seen;
  for (std::size_t i = 0; i < uses->size(); ++i)
    if (!(*uses)[i].article.empty() && !seen.insert((*uses)[i].article).second)
      context.findings.warning(article_span(node.items[i]), "each article once; the amounts are added up");
  return uses;
}

/// A kind of work by its name; another word is told which kinds go by it.
std::optional<std::string> read_work_kind(Context& context, const Node& node) {
  if (node.kind == NodeKind::text && trade::find_kind(node.text) != nullptr) return node.text;
  std::string expected = "the name of a kind of work, as `fettlefund work` lists them";
  const trade::Found found = node.kind == NodeKind::text ? trade::find_kinds(node.text) : trade::Found{};
  const std::string nearest = found.kinds.empty() ? "" : found.kinds.front()->name;
  if (found.kinds.size() > 1) expected += "; by that word go " + trade::names_of(found.kinds, 4);
  context.findings.error(node.span, std::move(expected), found.kinds.size() == 1 ? nearest : "");
  return {};
}

std::optional<Torque> read_torque_entry(Context& context, const Node& node) {
  Torque torque;
  const Fields fields(context, node, Part::torque);
  fields.get("on", torque.on, read_line);
  fields.get("value", torque.value, read_torque);
  fields.get("source", torque.source, read_line);
  fields.get("pattern", torque.pattern, OneOf{{"opposite pairs"}});
  fields.get("fasteners", torque.fasteners, Whole{1, 200});
  return torque;
}

std::optional<Check> read_check(Context& context, const Node& node) {
  Check check;
  const Fields fields(context, node, Part::check);
  fields.get("what", check.what, read_line);
  fields.get("target", check.target, read_line);
  fields.get("limits", check.limits, read_line);
  fields.get("whole", check.whole, read_flag);
  return check;
}

std::optional<Step> read_step(Context& context, const Node& node) {
  Step step;
  if (node.kind == NodeKind::text) {
    step.text = read_line(context, node).value_or("");
    return step;
  }
  const Fields fields(context, node, Part::step);
  fields.get("do", step.text, read_line);
  fields.get("id", step.id, read_id);
  fields.get("after", step.after, set_of(Reference{&Ids::steps, "a step"}));
  fields.get("helper", step.helper, read_flag);
  fields.get("fits", step.fits, Reference{&Ids::goods, "a part or consumable"});
  fields.get("tightens", step.tightens, read_line);
  return step;
}

/// What steps fit must be among the articles of their job or removal, what they tighten among its torques.
class StepLinks {
 public:
  StepLinks(const std::vector<Use>& uses, const std::vector<Torque>& torques, std::string_view where,
            std::string_view key)
      : where_(where), key_(key) {
    for (const Use& use : uses) articles_.push_back(use.article);
    for (const Torque& torque : torques) fasteners_.push_back(torque.on);
  }

  void check(const Fields& fields, std::string_view list, const std::vector<Step>& steps) const {
    const Node* node = fields.find(list);
    if (node == nullptr || node->items.size() != steps.size()) return;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      look(fields, node->items[i].find("fits"), steps[i].fits, articles_,
           fmt::format("an article under \"{}\" of this {}", key_, where_));
      look(fields, node->items[i].find("tightens"), steps[i].tightens, fasteners_,
           fmt::format("the \"on\" of a torque of this {}", where_));
    }
  }

 private:
  static void look(const Fields& fields, const Node* node, const std::string& word,
                   const std::vector<std::string>& known, const std::string& expected) {
    if (node == nullptr || word.empty()) return;
    if (std::find(known.begin(), known.end(), word) != known.end()) return;
    fields.context().findings.error(node->span, expected, text::nearest_name(word, text::Names(known)));
  }

  std::string_view where_, key_;
  std::vector<std::string> articles_, fasteners_;
};

/// Steps that take off come before anything is fitted or tightened.
void check_off_steps(const Fields& fields, const std::vector<Step>& steps) {
  const Node* node = fields.find("off");
  if (node == nullptr || node->items.size() != steps.size()) return;
  for (const Node& item : node->items)
    for (const char* key : {"fits", "tightens"})
      if (const Node* link = item.find(key))
        fields.context().findings.error(
            link->span, "nothing fitted or tightened while it comes off: a step under \"on\"");
}

/// What renews a fitted part with a service life draws its want from that; a must needs none.
void check_want(const Fields& fields, const Job& job) {
  if (job.want || job.must || fields.has("want")) return;
  if (fields.context().ids.renewing_jobs.has(job.id)) return;
  fields.context().findings.missing(
      fields.span(),
      "a key \"want\": only a must, or a job that renews a fitted part with a service life, goes without");
}

void check_replaced_by(const Fields& fields, const Job& job) {
  const Node* jobs = fields.find("replaced_by");
  if (jobs == nullptr) return;
  for (const Node& item : jobs->items)
    if (item.text == job.id) fields.context().findings.error(item.span, "another job than this one");
}

/// What a job puts on stands in for something that it takes off, and is another thing.
void check_takes_off(const Fields& fields, const Job& job) {
  const Node* puts_on = fields.find("puts_on");
  if (puts_on == nullptr) return;
  if (job.takes_off.empty() && !fields.has("takes_off"))
    fields.context().findings.error(puts_on->span, "\"takes_off\" beside it: what comes off for good");
  for (const Node& item : puts_on->items)
    if (std::find(job.takes_off.begin(), job.takes_off.end(), item.text) != job.takes_off.end())
      fields.context().findings.error(item.span, "another removal than the one taken off for good");
}

void check_days(const Fields& fields, const Job& job) {
  if (job.by && job.not_before && *job.by < *job.not_before)
    fields.context().findings.error(fields.find("by")->span, "a day not before \"not_before\"");
}

void read_links(const Fields& fields, Job& job) {
  fields.get("removals", job.removals, removal_ids);
  fields.get("after", job.after, job_ids);
  fields.get("with", job.together_with, job_ids);
  fields.get("one_of", job.one_of, read_line);
  fields.get("uses", job.uses, read_uses);
  fields.get("tools", job.tools, set_of(read_tool));
  fields.get("mates", job.mates, read_mates);
  fields.get("replaced_by", job.replaced_by, job_ids);
  fields.get("takes_off", job.takes_off, removal_ids);
  fields.get("puts_on", job.puts_on, removal_ids);
}

void read_bench_notes(const Fields& fields, Job& job) {
  fields.get("torques", job.torques, read_torques);
  fields.get("checks", job.checks, read_checks);
  fields.get("steps", job.steps, read_steps);
  fields.get("tags", job.tags, read_words);
  fields.get("cautions", job.cautions, set_of(read_text));
  fields.get("manual", job.manual, read_text);
  fields.get("note", job.note, read_text);
  fields.get("helper", job.helper, read_flag);
  fields.get("overnight", job.overnight, read_flag);
}

}  // namespace

std::optional<std::vector<Torque>> read_torques(Context& context, const Node& node) {
  return list_of(read_torque_entry)(context, node);
}

std::optional<std::vector<Check>> read_checks(Context& context, const Node& node) {
  return list_of(read_check)(context, node);
}

std::optional<std::vector<Step>> read_steps(Context& context, const Node& node) {
  return list_of(read_step)(context, node);
}

void read_removal(Context& context, const Node& node, Removal& removal) {
  const Fields fields(context, node, Part::removal);
  fields.get("name", removal.name, read_line);
  fields.get("hours_off", removal.minutes_off, read_minutes);
  fields.get("hours_on", removal.minutes_on, read_minutes);
  fields.get("needs", removal.needs, removal_ids);
  fields.get("one_use", removal.one_use, read_uses);
  fields.get("tools", removal.tools, set_of(read_tool));
  fields.get("torques", removal.torques, read_torques);
  fields.get("checks", removal.checks, read_checks);
  fields.get("off", removal.off, read_steps);
  fields.get("on", removal.on, read_steps);
  fields.get("tags", removal.tags, read_words);
  fields.get("helper", removal.helper, read_flag);
  fields.get("overnight", removal.overnight, read_flag);
  if (node.kind != NodeKind::object) return;
  check_off_steps(fields, removal.off);
  StepLinks(removal.one_use, removal.torques, "removal", "one_use").check(fields, "on", removal.on);
}

void read_job(Context& context, const Node& node, Job& job) {
  const Fields fields(context, node, Part::job);
  fields.get("name", job.name, read_line);
  fields.get("kind", job.kind, read_work_kind);
  fields.get("want", job.want, Whole{0, 10});
  fields.get("must", job.must, read_flag);
  fields.get("by", job.by, read_day);
  fields.get("not_before", job.not_before, read_day);
  fields.get("hours", job.minutes, read_minutes);
  fields.get("cost", job.cost, read_money_from_zero);
  read_links(fields, job);
  read_bench_notes(fields, job);
  if (node.kind != NodeKind::object) return;
  check_want(fields, job);
  check_days(fields, job);
  check_replaced_by(fields, job);
  check_takes_off(fields, job);
  StepLinks(job.uses, job.torques, "job", "uses").check(fields, "steps", job.steps);
}

}  // namespace fettlefund::build
