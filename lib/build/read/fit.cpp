#include "lib/build/read/sections.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

/// Months of service life, from either key.
void read_life(const Fields& fields, Fitted& fitted) {
  Findings& findings = fields.context().findings;
  fields.get("life_months", fitted.life_months, Whole{1, 1200});
  int years = 0;
  if (fields.get("life_years", years, Whole{1, 100})) {
    if (fields.has("life_months"))
      findings.error(fields.find("life_years")->span, "\"life_years\" or \"life_months\", not both");
    fitted.life_months = years * 12;
  }
  const bool ages = fields.has("life_years") || fields.has("life_months");
  if (ages && !fields.has("since"))
    findings.missing(fields.span(), "a key \"since\": a service life runs from a day");
}

}  // namespace

void read_fitted(Context& context, const Node& node, Fitted& fitted) {
  const Fields fields(context, node, Part::fitted);
  if (context.ids.jobs.has(fitted.id))
    context.findings.error(node.span, fmt::format("another id than \"{}\", which is a job's", fitted.id));
  fields.get("name", fitted.name, read_line);
  fields.get("since", fitted.since, read_day);
  read_life(fields, fitted);
  fields.get("mates", fitted.mates, read_mates);
  fields.get("replaced_by", fitted.replaced_by, set_of(Reference{&Ids::jobs, "a job"}));
  fields.get("reached_by", fitted.reached_by, set_of(Reference{&Ids::removals, "a removal"}));
}

std::optional<Clash> read_clash(Context& context, const Node& node) {
  Clash clash;
  const Fields fields(context, node, Part::clash);
  clash.place = node.span.place;
  std::vector<Id> ends;
  const auto read_ends = list_of(Reference{&Ids::jobs_or_fitted, "a job or a fitted part"});
  if (fields.get("between", ends, read_ends)) {
    const Node& between = *fields.find("between");
    const bool sound = ends.size() == between.items.size();  // else a wrong id has been reported already
    if (between.items.size() != 2 || (sound && ends[0] == ends[1]))
      context.findings.error(between.span, "two different jobs or fitted parts");
    else if (sound)
      std::tie(clash.a, clash.b) = std::tie(ends[0], ends[1]);
  }
  fields.get("unless", clash.unless, set_of(Reference{&Ids::jobs, "a job"}));
  fields.get("why", clash.why, read_line);
  return clash;
}

std::optional<Rule> read_rule(Context& context, const Node& node) {
  Rule rule;
  const Fields fields(context, node, Part::rule);
  rule.place = node.span.place;
  fields.get("id", rule.id, read_id);
  fields.get("tag", rule.tag, read_line);
  fields.get("article", rule.article, read_id);
  fields.get("name", rule.name, read_line);
  fields.get("amount", rule.amount, read_quantity);
  fields.get("unit", rule.unit, read_line);
  fields.get("why", rule.why, read_line);
  return rule;
}

std::optional<Silence> read_silence(Context& context, const Node& node) {
  Silence silence;
  const Fields fields(context, node, Part::silence);
  silence.place = node.span.place;
  fields.get("rule", silence.rule, read_id);
  fields.get("for", silence.only_for, Reference{&Ids::jobs_or_removals, "a job or a removal"});
  fields.get("because", silence.because, read_line);
  return silence;
}

}  // namespace fettlefund::build
