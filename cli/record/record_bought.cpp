#include <algorithm>
#include <map>
#include <ostream>
#include <sstream>

#include "cli/progress.hpp"
#include "cli/record/record.hpp"
#include "lib/outcome/shopping.hpp"
#include "lib/progress/open_order.hpp"
#include "lib/report/text/text.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stages.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

using planning::BuyingLine;

/// The plan from `day` on (nothing: from the last day of the log), by the log so far. Nothing: `err` tells
/// why there is none.
std::optional<planning::Planning> current_plan(const Recording& recording, std::optional<budgets::Date> day,
                                               std::ostream& err,
                                               std::optional<planning::Standing>& standing) {
  const Console console{recording.console.in, recording.console.out, err, recording.console.around};
  const std::optional<log::Log> log =
      recording.log.entries.empty() ? std::nullopt : std::optional(recording.log);
  Request request = recording.request;
  request.from = day;
  standing = stand_by(log, request, console, recording.build);
  if (!standing) return std::nullopt;
  ProgressLine progress(request, recording.console, stages_left(*standing));
  planning::Planning planning = planning::replan(*standing, progress.options());
  progress.end();
  if (const auto* conflict = std::get_if<planning::Conflict>(&planning)) {
    err << report::text(*conflict);
    return std::nullopt;
  }
  if (std::holds_alternative<planning::NoPlan>(planning)) {
    err << "fettlefund: stopped before a plan was found; try --effort thorough\n";
    return std::nullopt;
  }
  return planning;
}

/// Finds out what each key stands for.
class Buying {
 public:
  explicit Buying(const Recording& recording) : recording_(recording), record_(recording.request.record) {
    for (const planning::Bought& bought : planning::history_of(recording.log, planning::last_date).bought) {
      if (bought.packs > 0)
        before_.emplace(bought.key, bought.number);  // what is gone since may be had again
    }
  }

  std::optional<std::vector<log::NewEntry>> entries() {
    if (!record_.amount.empty() && !recording_.amount()) return std::nullopt;
    std::vector<Word> words;
    for (const std::string& word : record_.what) expand(word, words);
    if (!good_) return std::nullopt;
    const bool detailed = record_.packs || !record_.amount.empty();
    if ((detailed && words.size() > 1) || (record_.arrives && record_.what.size() > 1)) {
      recording_.refuse("--packs, --paid and --arrives tell of one key at a time");
      return std::nullopt;
    }
    for (const Word& word : words) good_ &= add(word);
    if (!good_) return std::nullopt;
    tell_delivery();
    return std::move(batch_);
  }

 private:
  /// A key, and what was really paid for it where that was said.
  struct Word {
    std::string key;
    std::optional<budgets::Money> real;
  };

  /// "chain=59.90" is a key at its real price, "order:shop@1" all that the plan orders there, with its
  /// delivery, "stage:1" all that the stage pays. What is recorded already is passed over in those two.
  void expand(const std::string& word, std::vector<Word>& to) {
    const std::size_t equals = word.find('=');
    if (equals != std::string::npos) {
      const auto amount = recording_.amount(word.substr(equals + 1));
      good_ &= amount.has_value() && record_.amount.empty();
      if (!record_.amount.empty()) recording_.refuse("a price stands behind = or after --paid, not both");
      to.push_back({word.substr(0, equals), amount});
      return;
    }
    if (!word.starts_with("order:") && !word.starts_with("stage:")) {
      const bool said = !record_.amount.empty() && record_.action != "deposit";
      to.push_back({word, said ? recording_.amount() : std::nullopt});
      return;
    }
    read_plan();
    std::string passed_over;
    if (take_lines(word, to, passed_over)) return;
    // The plan as of the day may buy there what that of the log's last day does not.
    if (!of_the_day_) {
      take_plan_of_the_day();
      if (take_lines(word, to, passed_over)) return;
    }
    good_ = false;
    if (!passed_over.empty()) {  // the plan buys more of what is recorded
      recorded(passed_over);
      return;
    }
    std::vector<std::string> known;
    for (const BuyingLine& line : lines_) known.insert(known.end(), {line.order, line.stage});
    recording_.unknown(word, "an order or a stage that the plan still buys for", known);
  }

  /// The lines of that order or stage; `passed_over`: the last one that is recorded already.
  bool take_lines(const std::string& word, std::vector<Word>& to, std::string& passed_over) const {
    const std::size_t count = to.size();
    for (const BuyingLine& line : lines_) {
      if (line.order != word && line.stage != word) continue;
      if (before_.count(line.key) == 0 || record_.again)
        to.push_back({line.key, {}});
      else
        passed_over = line.key;
    }
    return to.size() > count;
  }

  bool add(const Word& word) {
    read_plan();
    const auto& [key, real] = word;
    const BuyingLine* line = find(key);
    if (!line) line = find_on_the_day(key);
    if (!line) return add_unplanned(key, real);
    const std::string& name = key == line->article ? line->key : key;
    if (recorded(name)) return false;
    log::Bought bought{name, record_.packs.value_or(line->packs), line->amount, record_.arrives,
                       line->article.empty() ? build::Id() : line->supplier};
    if (record_.packs) bought.paid = line->price * *record_.packs;
    if (real) bought.paid = *real;
    if (!bought.arrives && line->lead_days > 0) bought.arrives = recording_.day + line->lead_days;
    batch_.push_back({recording_.day, bought});
    return true;
  }

  /// Not on the current list, as the delivery of what is bought already, or as everything while there is no
  /// plan: what it is and for how much is as the build file says, where that is clear.
  bool add_unplanned(const std::string& word, const std::optional<budgets::Money>& real) {
    const build::Build& build = recording_.build;
    const int bare = planning::find_id(build.articles, word);
    const std::string key = bare < 0 ? word : fmt::format("{}@{}", word, stage_on_day(build, recording_.day));
    const planning::ShoppingKey what = planning::read_key(key);
    const int a =
        what.kind == planning::ShoppingKey::Kind::article ? planning::find_id(build.articles, what.id) : -1;
    const std::int64_t packs = record_.packs.value_or(1);
    std::optional<budgets::Money> price = a < 0 ? list_price(what) : offered_price(a, packs);
    const bool known = a >= 0 || price;
    if (real) price = real;
    if (!price || !known) {
      if (recorded(key) || recorded_article(word)) return false;
      recording_.unknown(word,
                         a >= 0 ? "on the current shopping list; with --paid it is recorded all the same"
                                : "on the current shopping list",
                         keys());
      return false;
    }
    if (recorded(key) || (a >= 0 && (bare >= 0 || planned_) && recorded_article(what.id))) return false;
    const build::Id seller =
        a < 0 ? build::Id() : planning::only_supplier(build.articles[static_cast<std::size_t>(a)]);
    batch_.push_back({recording_.day, log::Bought{key, packs, *price, arrival(a), seller}});
    return true;
  }

  /// What so many packs cost where one offer alone is there; nothing where there is a choice.
  std::optional<budgets::Money> offered_price(int article, std::int64_t packs) const {
    const auto& offers = recording_.build.articles[static_cast<std::size_t>(article)].offers;
    if (offers.size() != 1) return std::nullopt;
    return offers.front().price.likely * packs;
  }

  /// When something that is on no list arrives: by the longest lead time that is offered, unless told.
  std::optional<budgets::Date> arrival(int article) const {
    if (record_.arrives || article < 0) return record_.arrives;
    int days = 0;
    for (const build::Offer& offer : recording_.build.articles[static_cast<std::size_t>(article)].offers) {
      days = std::max(days, offer.lead_days);
    }
    return days > 0 ? std::optional(recording_.day + days) : std::nullopt;
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

  /// The lines of the current plan, or where it is impossible of the plan as of the day of the purchase. What
  /// has happened is recorded whether there is one or not.
  void read_plan() {
    if (asked_) return;
    asked_ = true;
    if (take_plan(recording_.request.from) || take_plan_of_the_day()) return;
    recording_.console.err << fmt::format(
        "note: {} has no plan now, so that packs, prices and arrivals are as its offers say; `plan` tells "
        "why\n",
        recording_.request.file);
  }

  /// Whether there is a plan from `day` on; then its lines are those to buy by.
  bool take_plan(std::optional<budgets::Date> day) {
    std::ostringstream why;
    std::optional<planning::Standing> standing;
    const auto planning = current_plan(recording_, day, why, standing);
    if (!planning) return false;
    lines_ = planning::buying_lines(std::get<planning::Outcome>(*planning));
    planned_ = true;
    return true;
  }

  bool take_plan_of_the_day() {
    of_the_day_ = true;
    return take_plan(recording_.day);
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

  /// The plan as of the day of the purchase may buy what that of the log's last day does not.
  const BuyingLine* find_on_the_day(const std::string& key) {
    if (!planned_ || of_the_day_) return nullptr;
    const std::vector<BuyingLine> before = lines_;
    take_plan_of_the_day();
    const BuyingLine* line = find(key);
    if (!line) lines_ = before;
    return line;
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
  bool asked_ = false, planned_ = false, of_the_day_ = false, good_ = true;
};

}  // namespace

int stage_on_day(const build::Build& build, budgets::Date day) {
  const planning::Calendar calendar = planning::calendar_of(build.money);
  const int count = static_cast<int>(calendar.paydays.size());
  int stage = 1;
  for (int at = 0; at < count; ++at) stage += planning::bench_time(build, calendar, at).last < day ? 1 : 0;
  return std::min(stage, count);
}

std::optional<std::vector<log::NewEntry>> bought_entries(const Recording& recording) {
  return Buying(recording).entries();
}

std::optional<std::vector<log::NewEntry>> agreed_entries(const Recording& recording) {
  std::optional<planning::Standing> standing;
  const auto planning = current_plan(recording, recording.day, recording.console.err, standing);
  if (!planning) return std::nullopt;
  log::AgreedPlan agreed;
  for (const planning::StageView& stage : std::get<planning::Outcome>(*planning).stages) {
    for (const planning::JobView& job : stage.jobs) agreed.jobs.push_back({job.id, stage.bench});
  }
  if (agreed.jobs.empty()) {
    recording.refuse("the current plan does no job, so there is nothing to agree");
    return std::nullopt;
  }
  recording.console.out << fmt::format("Agreed is the plan from {0} on, as `plan {1} --from {0}` shows it.\n",
                                       budgets::write_date(recording.day), recording.request.file);
  return std::vector<log::NewEntry>{{recording.day, std::move(agreed)}};
}

}  // namespace fettlefund::cli
