#include "lib/build/read/read.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "lib/build/fingerprint.hpp"
#include "lib/build/read/for_good.hpp"
#include "lib/build/read/sections.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::build {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

Reading refused(const std::string& file, Place place, std::string found, std::string expected) {
  Diagnostic diagnostic;
  diagnostic.file = file;
  diagnostic.place = place;
  diagnostic.found = std::move(found);
  diagnostic.expected = std::move(expected);
  return {{}, {std::move(diagnostic)}};
}

/// Bytes that no text holds, before any of it is parsed.
std::optional<Reading> refuse_bytes(std::string_view text, const std::string& file) {
  if (text.size() > max_file_bytes)
    return refused(file, {}, fmt::format("{} bytes", text.size()),
                   fmt::format("at most {} bytes", max_file_bytes));
  const std::size_t at = std::min(text::find_bad_utf8(text), text.find('\0'));
  if (at >= text.size()) return {};
  return refused(file, place_of(text, at),
                 fmt::format("the byte {:02X}", static_cast<unsigned char>(text[at])), "text in UTF-8");
}

std::size_t count_entries(const Node& root) {
  std::size_t count = 0;
  for (const Member& section : root.members)
    count += section.value.members.size() + section.value.items.size();
  return count;
}

/// Stands in for a currency that is not known, so that amounts are not reported along with it.
constexpr budgets::Currency any_currency{"the build's currency", 4};

budgets::Currency read_currency(Findings& findings, const Node& root) {
  const Node* node = root.find("currency");
  if (node == nullptr) return any_currency;
  const bool text = node->kind == NodeKind::text;
  const auto currency = text ? budgets::find_currency(node->text) : std::nullopt;
  if (currency) return *currency;
  findings.error(node->span, "a currency code of ISO 4217 in capitals, such as \"EUR\"",
                 std::string(text ? budgets::nearest_currency(node->text) : ""));
  return any_currency;
}

void check_format(Context& context, const Node* node) {
  if (node != nullptr && (node->kind != NodeKind::number || node->text != "1"))
    context.findings.error(node->span, "1, the only version of the format so far");
}

/// Offers that state no lead time have their supplier's.
void fill_lead_times(Build& build) {
  std::map<Id, const Supplier*> by_id;
  for (const Supplier& supplier : build.suppliers) by_id[supplier.id] = &supplier;
  for (Article& article : build.articles)
    for (Offer& offer : article.offers) {
      if (offer.lead_days >= 0) continue;
      const auto found = by_id.find(offer.supplier);
      offer.lead_days = found == by_id.end() ? 0 : found->second->lead_days;
      if (found != by_id.end()) offer.lead_spread = found->second->lead_spread;
    }
}

/// Items of a list that say the same as one before them. `key_of` returns an empty key for broken ones.
template <class Item, class KeyOf>
void check_once(const Fields& fields, std::string_view list, const std::vector<Item>& items,
                const KeyOf& key_of, std::string_view expected) {
  std::set<std::string> seen;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const std::string key = key_of(items[i]);
    if (!key.empty() && !seen.insert(key).second)
      fields.context().findings.error(fields.find(list)->items[i].span, std::string(expected));
  }
}

void check_lists(const Fields& fields, const Build& build) {
  check_once(
      fields, "clashes", build.clashes,
      [](const Clash& clash) {
        return clash.a.empty() ? "" : std::min(clash.a, clash.b) + " " + std::max(clash.a, clash.b);
      },
      "each clash once; this one stands above already");
  check_once(
      fields, "rules", build.rules, [](const Rule& rule) { return rule.id; },
      "a rule with an id of its own; this id stands above already");
  check_once(
      fields, "silence", build.silences,
      [](const Silence& silence) {
        return silence.rule.empty() || silence.because.empty() ? "" : silence.rule + " " + silence.only_for;
      },
      "each silence once; this one stands above already");
}

void read_lists(const Fields& fields, Build& build) {
  fields.get("on_hand", build.on_hand, list_of(read_on_hand));
  fields.get("clashes", build.clashes, list_of(read_clash));
  fields.get("rules", build.rules, list_of(read_rule));
  fields.get("silence", build.silences, list_of(read_silence));
  fields.get("cautions", build.cautions, set_of(read_text));
  check_lists(fields, build);
}

void read_sections(const Fields& fields, Build& build) {
  Context& context = fields.context();
  if (const Node* money = fields.find("money")) read_money_plan(context, *money, build.money);
  if (const Node* bench = fields.find("bench")) read_bench(context, *bench, build.money.stages, build.bench);
  read_entries(context, fields.find("suppliers"), build.suppliers, read_supplier);
  read_entries(context, fields.find("articles"), build.articles, read_article);
  read_entries(context, fields.find("removals"), build.removals, read_removal);
  read_entries(context, fields.find("jobs"), build.jobs, read_job);
  read_entries(context, fields.find("fitted"), build.fitted, read_fitted);
  read_lists(fields, build);
  const Node* drive = fields.find("drive");
  if (drive != nullptr) read_drive(context, *drive, build, build.drive.emplace());
  if (drive != nullptr) build.drive->place = drive->span.place;
}

Build read_build(Context& context, const Node& root) {
  Build build;
  build.currency = context.currency;
  const Fields fields(context, root, Part::build);
  check_format(context, fields.find("fettlefund"));
  std::string named_schema;  // for editors only
  fields.get("$schema", named_schema, read_text);
  fields.get("name", build.name, read_line);
  fields.get("about", build.about, read_text);
  read_sections(fields, build);
  const Node* jobs = fields.find("jobs");
  if (jobs != nullptr && jobs->kind == NodeKind::object && build.jobs.empty())
    context.findings.missing(jobs->span, "at least one job");
  check_step_ids(root, context.findings);
  fill_lead_times(build);
  for (const Doubt& doubt : settle_for_good(build)) {
    for (const Member& job : jobs->members)
      if (job.key == doubt.job) context.findings.missing(job.span, doubt.expected);
  }
  return build;
}

Reading read_tree(const Node& root, Findings& findings) {
  const Ids ids = collect_ids(root);
  Context context{findings, ids, read_currency(findings, root)};
  Reading reading;
  reading.build = read_build(context, root);
  reading.diagnostics = findings.told(root);
  if (findings.has_errors()) reading.build.reset();
  return reading;
}

}  // namespace

Reading read(std::string_view text, const std::string& file) {
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  if (auto refusal = refuse_bytes(text, file)) return *refusal;
  Findings findings(file, text);
  const Node root = parse_tree(text, findings);
  if (findings.stopped()) return {{}, findings.told(root)};
  const std::size_t entries = count_entries(root);
  if (entries > max_entries)
    return refused(file, root.span.place, fmt::format("{} entries", entries),
                   fmt::format("at most {} suppliers, articles, jobs and the like together", max_entries));
  Reading reading = read_tree(root, findings);
  if (reading.build) {
    reading.build->file = file;
    reading.build->fingerprint = fingerprint(text);
  }
  return reading;
}

Reading read_file(const std::string& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) return refused(path, {}, "no such file", "the path of a build file");
  if (!std::filesystem::is_regular_file(status))
    return refused(path, {}, "no regular file", "the path of a build file");
  const std::uintmax_t size = std::filesystem::file_size(path, error);
  if (error || size > max_file_bytes)
    return refused(path, {}, fmt::format("{} bytes", size), fmt::format("at most {} bytes", max_file_bytes));
  std::ifstream stream(path, std::ios::binary);
  std::string text(static_cast<std::size_t>(size), '\0');
  stream.read(text.data(), static_cast<std::streamsize>(size));
  if (!stream) return refused(path, {}, "a file that cannot be read", "one that this user may read");
  return read(text, path);
}

}  // namespace fettlefund::build
