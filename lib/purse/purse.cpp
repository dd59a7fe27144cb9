#include "lib/purse/purse.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "lib/build/read/read.hpp"
#include "lib/build/read/sections.hpp"
#include "lib/outcome/plan.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::purse {
namespace {

namespace fs = std::filesystem;
using build::Diagnostic;

const build::KeyTable& purse_keys() {
  static const build::KeyTable keys("purse", "a purse",
                                    {{"fettlefund_purse", true},
                                     {"$schema"},
                                     {"name", true},
                                     {"currency", true},
                                     {"money", true},
                                     {"bench", true},
                                     {"builds", true}});
  return keys;
}

Diagnostic refusal(const std::string& file, build::Place place, std::string found, std::string expected) {
  return {build::Severity::error, file, place, {}, std::move(found), std::move(expected), {}};
}

/// The file's text; a refusal where it cannot be read as one.
std::optional<Diagnostic> read_text(const std::string& path, std::string& text) {
  std::error_code error;
  if (!fs::exists(path, error)) return refusal(path, {}, "no such file", "the path of a purse file");
  if (!fs::is_regular_file(path, error))
    return refusal(path, {}, "no regular file", "the path of a purse file");
  const std::uintmax_t size = fs::file_size(path, error);
  if (error || size > build::max_file_bytes)
    return refusal(path, {}, fmt::format("{} bytes", size),
                   fmt::format("at most {} bytes", build::max_file_bytes));
  std::ifstream stream(path, std::ios::binary);
  text.resize(static_cast<std::size_t>(size));
  stream.read(text.data(), static_cast<std::streamsize>(size));
  if (!stream) return refusal(path, {}, "a file that cannot be read", "one that this user may read");
  const std::size_t bad = std::min(text::find_bad_utf8(text), text.find('\0'));
  if (bad < text.size()) return refusal(path, build::place_of(text, bad), "", "text in UTF-8");
  return std::nullopt;
}

class Reader {
 public:
  explicit Reader(const std::string& path) : path_(path) { purse_.file = path; }

  Reading read() {
    std::string text;
    if (auto wrong = read_text(path_, text)) return {{}, {*wrong}};
    build::Findings findings(path_, text);
    const build::Node root = build::parse_tree(text, findings);
    if (!findings.stopped()) read_purse(root, findings);
    reading_.diagnostics = findings.told(root);
    if (!findings.has_errors()) read_builds();
    if (!build::has_errors(reading_.diagnostics)) reading_.purse = std::move(purse_);
    return std::move(reading_);
  }

 private:
  void read_purse(const build::Node& root, build::Findings& findings) {
    static const build::Ids none{};
    build::Context context{findings, none, currency_of(root, findings)};
    currency_ = context.currency;
    const build::Fields fields(context, root, purse_keys());
    const build::Node* version = fields.find("fettlefund_purse");
    if (version && (version->kind != build::NodeKind::number || version->text != "1"))
      findings.error(version->span, "1, the only version of the format so far");
    std::string schema;  // for editors only
    fields.get("$schema", schema, build::read_text);
    fields.get("name", purse_.name, build::read_line);
    if (const auto* money = fields.find("money")) build::read_money_plan(context, *money, money_);
    if (const auto* bench = fields.find("bench")) read_bench(context, *bench);
    if (const auto* builds = fields.find("builds")) read_members(context, *builds);
  }

  /// Sessions would have to be laid out over several builds.
  void read_bench(build::Context& context, const build::Node& node) {
    build::read_bench(context, node, money_.stages, bench_);
    if (const build::Node* sessions = node.find("sessions"))
      context.findings.error(sessions->span,
                             "no \"sessions\": a purse has \"hours\" and \"days_after_payday\"");
  }

  static budgets::Currency currency_of(const build::Node& root, build::Findings& findings) {
    const build::Node* node = root.find("currency");
    const auto found =
        node && node->kind == build::NodeKind::text ? budgets::find_currency(node->text) : std::nullopt;
    if (node && !found)
      findings.error(node->span, "a currency code of ISO 4217 in capitals, such as \"EUR\"");
    return found.value_or(budgets::Currency{"the purse's currency", 4});
  }

  void read_members(build::Context& context, const build::Node& node) {
    if (!build::expect_object(context, node)) return;
    if (node.members.empty()) context.findings.missing(node.span, "at least one build");
    if (node.members.size() > most_builds)
      context.findings.error(node.span, fmt::format("at most {} builds", most_builds));
    std::map<std::string, std::string> seen;
    for (const build::Member& member : node.members) {
      if (!build::is_id(member.key)) context.findings.error(member.span, build::id_words());
      const auto file = build::read_line(context, member.value);
      if (!file) continue;
      const std::string path = (fs::path(path_).parent_path() / *file).string();
      std::error_code error;
      const auto [at, fresh] = seen.emplace(fs::weakly_canonical(path, error).string(), member.key);
      if (!fresh)
        context.findings.error(member.value.span,
                               fmt::format("each build once: this is the file of \"{}\"", at->second));
      purse_.members.push_back({member.key, path, {}});
      places_.push_back(member.value.span.place);
    }
  }

  void tell(std::vector<Diagnostic> more) {
    for (Diagnostic& one : more) {
      const bool ours = one.pointer.starts_with("/money") || one.pointer.starts_with("/bench");
      if (ours) one.file = path_;
      if (ours && !told_.insert(build::to_text(one)).second) continue;  // every build has the purse's money
      reading_.diagnostics.push_back(std::move(one));
    }
  }

  void read_builds() {
    for (std::size_t i = 0; i < purse_.members.size(); ++i) {
      Member& member = purse_.members[i];
      build::Reading read = build::read_file(member.path);
      for (Diagnostic& one : read.diagnostics) reading_.diagnostics.push_back(std::move(one));
      if (!read.build) {
        reading_.diagnostics.push_back(
            refusal(path_, places_[i], member.path, "a build file without errors"));
        continue;
      }
      if (read.build->currency.code != currency_.code) {
        reading_.diagnostics.push_back(
            refusal(path_, places_[i], "a build in " + std::string(read.build->currency.code),
                    "one in " + std::string(currency_.code) + ", as the purse has"));
        continue;
      }
      member.build = std::move(*read.build);
      member.build.money = money_;
      member.build.bench = bench_;
      tell(planning::check(member.build));
    }
    check_suppliers();
  }

  /// One id is one supplier in the whole purse, and its orders are joined: then it has one set of charges.
  void check_suppliers() {
    std::map<build::Id, std::pair<const Member*, const build::Supplier*>> first;
    for (const Member& member : purse_.members) {
      for (const build::Supplier& supplier : member.build.suppliers) {
        const auto [at, fresh] = first.emplace(supplier.id, std::pair(&member, &supplier));
        const auto& [other, known] = at->second;
        if (fresh || (known->delivery == supplier.delivery && known->free_from == supplier.free_from))
          continue;
        Diagnostic one = refusal(
            member.build.file, supplier.place, supplier.id,
            fmt::format(
                "delivery and free_from as {}:{} has them, or another id: one id is one supplier in a purse",
                other->build.file, known->place.line));
        one.pointer = "/suppliers/" + supplier.id;
        reading_.diagnostics.push_back(std::move(one));
      }
    }
  }

  std::string path_;
  budgets::Currency currency_;
  build::MoneyPlan money_;
  build::Bench bench_;
  Purse purse_;
  std::vector<build::Place> places_;  ///< of the members' paths
  std::set<std::string> told_;
  Reading reading_;
};

}  // namespace

Reading read_file(const std::string& path) { return Reader(path).read(); }

bool is_purse(std::string_view path) { return path.ends_with(".purse"); }

}  // namespace fettlefund::purse
