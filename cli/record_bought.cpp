#include <algorithm>
#include <map>
#include <ostream>

#include "cli/progress.hpp"
#include "cli/record.hpp"
#include "lib/outcome/shopping.hpp"
#include "lib/report/text/text.hpp"
#include "lib/staging/ids.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

using planning::BuyingLine;

/// The current plan, by the log so far. Nothing: `err` tells why there is none.
std::optional<planning::Planning> current_plan(const Recording& recording,
                                               std::optional<planning::Standing>& standing) {
  const std::optional<log::Log> log =
      recording.log.entries.empty() ? std::nullopt : std::optional(recording.log);
  standing = stand_by(log, recording.request, recording.console, recording.build);
  if (!standing) return std::nullopt;
  ProgressLine progress(recording.request, recording.console, stages_left(*standing));
  planning::Planning planning = planning::replan(*standing, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning)) {
    recording.console.err << report::text(*conflict);
    return std::nullopt;
  }
  if (std::holds_alternative<planning::NoPlan>(planning)) {
    recording.refuse("stopped before a plan was found; try --effort thorough");
    return std::nullopt;
  }
  return planning;
}

/// Finds out what each key stands for.
class Buying {
 public:
  explicit Buying(const Recording& recording) : recording_(recording), record_(recording.request.record) {
    const std::vector<bool> counts = log::living(recording.log);
    for (std::size_t i = 0; i < recording.log.entries.size(); ++i) {
      const auto* bought = std::get_if<log::Bought>(&recording.log.entries[i].event);
      if (bought && counts[i]) before_.emplace(bought->key, recording.log.entries[i].number);
    }
  }

  std::optional<std::vector<log::NewEntry>> entries() {
    const bool detailed = record_.packs || !record_.amount.empty() || record_.arrives;
    if (detailed && record_.what.size() > 1) {
      recording_.refuse("--packs, --paid and --arrives tell of one key at a time");
      return std::nullopt;
    }
    if (!record_.amount.empty() && !recording_.amount()) return std::nullopt;
    for (const std::string& key : record_.what) good_ &= add(key);
    if (!good_) return std::nullopt;
    tell_delivery();
    return std::move(batch_);
  }

 private:
  bool add(const std::string& key) {
    if (!plan_lines()) return false;
    const BuyingLine* line = find(key);
    if (!line) return add_unplanned(key);
    const std::string& name = key == line->article ? line->key : key;
    if (recorded(name)) return false;
    log::Bought bought{name, record_.packs.value_or(line->packs), line->amount, record_.arrives};
    if (record_.packs) bought.paid = line->price * *record_.packs;
    if (!record_.amount.empty()) bought.paid = *recording_.amount();
    if (!bought.arrives && line->lead_days > 0) bought.arrives = recording_.day + line->lead_days;
    batch_.push_back({recording_.day, bought});
    return true;
  }

  /// Not on the current list, as the delivery of what is bought already: it has to be known what and for how
  /// much.
  bool add_unplanned(const std::string& key) {
    const planning::ShoppingKey what = planning::read_key(key);
    const std::optional<budgets::Money> price =
        record_.amount.empty() ? list_price(what) : recording_.amount();
    const bool article = what.kind == planning::ShoppingKey::Kind::article &&
                         planning::find_id(recording_.build.articles, what.id) >= 0;
    if (!price || !(article || list_price(what))) {
      if (recorded(key) || recorded_article(key)) return false;
      recording_.unknown(key,
                         article ? "on the current shopping list; with --paid it is recorded all the same"
                                 : "on the current shopping list",
                         keys());
      return false;
    }
    if (recorded(key)) return false;
    batch_.push_back({recording_.day, log::Bought{key, record_.packs.value_or(1), *price, record_.arrives}});
    return true;
  }

  /// What a delivery, a hire or a fee comes to by the build file.
  std::optional<budgets::Money> list_price(const planning::ShoppingKey& what) const {
    using Kind = planning::ShoppingKey::Kind;
    const build::Build& build = recording_.build;
    if (what.kind == Kind::delivery) {
      const int s = planning::find_id(build.suppliers, what.id);
      if (s >= 0) return build.suppliers[static_cast<std::size_t>(s)].delivery;
    }
    if (what.kind == Kind::hire) {
      const int a = planning::find_id(build.articles, what.id);
      if (a >= 0) return build.articles[static_cast<std::size_t>(a)].hire;
    }
    if (what.kind == Kind::fee) {
      const int j = planning::find_id(build.jobs, what.id);
      if (j >= 0) return build.jobs[static_cast<std::size_t>(j)].cost;
    }
    return std::nullopt;
  }

  bool recorded(const std::string& key) const {
    const auto found = before_.find(key);
    if (found == before_.end() || record_.again) return false;
    recording_.refuse(
        fmt::format("{} is recorded as bought by entry {}; --again records more of it, "
                    "`paid` another amount, `undo {}` takes it back",
                    key, found->second, found->second));
    return true;
  }

  /// Whether the article is recorded under some key, so that it is missing from the list for that reason.
  bool recorded_article(const std::string& id) const {
    return std::any_of(before_.begin(), before_.end(), [&](const auto& one) {
      return planning::read_key(one.first).id == id && recorded(one.first);
    });
  }

  /// The lines of the current plan; whether there is one.
  bool plan_lines() {
    if (planned_) return !lines_.empty() || good_;
    planned_ = true;
    std::optional<planning::Standing> standing;
    const auto planning = current_plan(recording_, standing);
    if (planning) lines_ = planning::buying_lines(std::get<planning::Outcome>(*planning));
    return planning.has_value();
  }

  /// The line with this key, or else the only one of this article, by itself or in the key of another plan.
  const BuyingLine* find(const std::string& key) const {
    const planning::ShoppingKey what = planning::read_key(key);
    const bool article = what.kind == planning::ShoppingKey::Kind::article;
    const std::string& id = article ? what.id : key;
    const BuyingLine* found = nullptr;
    int count = 0;
    for (const BuyingLine& line : lines_) {
      if (line.key == key) return &line;
      if (line.article != id) continue;
      found = &line;
      ++count;
    }
    return count == 1 ? found : nullptr;
  }

  std::vector<std::string> keys() const {
    std::vector<std::string> all;
    for (const BuyingLine& line : lines_) all.push_back(line.key);
    return all;
  }

  /// Delivery is a line of its own that is easily forgotten.
  void tell_delivery() const {
    std::vector<std::string> told;
    for (const log::NewEntry& entry : batch_) {
      const std::string& key = std::get<log::Bought>(entry.event).key;
      const auto line =
          std::find_if(lines_.begin(), lines_.end(), [&](const auto& one) { return one.key == key; });
      if (line == lines_.end() || line->delivery.empty()) continue;
      const bool here = std::any_of(batch_.begin(), batch_.end(), [&](const log::NewEntry& one) {
        return std::get<log::Bought>(one.event).key == line->delivery;
      });
      const bool known = here || before_.count(line->delivery) > 0 ||
                         std::find(told.begin(), told.end(), line->delivery) != told.end();
      if (known) continue;
      told.push_back(line->delivery);
      recording_.console.out << fmt::format("Delivery is not in it; when it is paid: record {} bought {}\n",
                                            recording_.request.file, line->delivery);
    }
  }

  const Recording& recording_;
  const RecordRequest& record_;
  std::map<std::string, std::int64_t> before_;
  std::vector<BuyingLine> lines_;
  std::vector<log::NewEntry> batch_;
  bool planned_ = false, good_ = true;
};

}  // namespace

std::optional<std::vector<log::NewEntry>> bought_entries(const Recording& recording) {
  return Buying(recording).entries();
}

std::optional<std::vector<log::NewEntry>> agreed_entries(const Recording& recording) {
  std::optional<planning::Standing> standing;
  const auto planning = current_plan(recording, standing);
  if (!planning) return std::nullopt;
  log::AgreedPlan agreed;
  for (const planning::StageView& stage : std::get<planning::Outcome>(*planning).stages) {
    for (const planning::JobView& job : stage.jobs) agreed.jobs.push_back({job.id, stage.bench});
  }
  if (agreed.jobs.empty()) {
    recording.refuse("the current plan does no job, so there is nothing to agree");
    return std::nullopt;
  }
  return std::vector<log::NewEntry>{{recording.day, std::move(agreed)}};
}

}  // namespace fettlefund::cli
