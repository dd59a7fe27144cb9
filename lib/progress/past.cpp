#include "lib/progress/past.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "lib/outcome/words.hpp"
#include "lib/progress/as_planned.hpp"
#include "lib/progress/open_order.hpp"
#include "lib/progress/replan.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stages.hpp"
#include "lib/staging/stock.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {
namespace {

using Kind = ShoppingKey::Kind;

std::string spaced(std::string text) {
  std::replace(text.begin(), text.end(), '-', ' ');
  return text;
}

class Rememberer {
 public:
  Rememberer(const build::Build& build, const log::Log& log, Date day)
      : build_(build),
        log_(log),
        history_(history_of(log, day)),
        day_(day),
        paydays_(calendar_of(build.money).paydays),
        benches_(bench_dates_of(build)) {
    const std::vector<bool> counts = log::effective(log);
    for (std::size_t i = 0; i < log.entries.size(); ++i)
      if (counts[i] && log.entries[i].date <= day) effective_.push_back(&log.entries[i]);
    for (const log::Entry* entry : effective_) {
      const auto* one = std::get_if<log::Remark>(&entry->event);
      if (one == nullptr) continue;
      remarks_[one->about].push_back(one->text);
      past_.told.emplace(one->about, one->text);
    }
  }

  Past remember() {
    past_.opening = build_.money.opening;
    if (benches_.empty()) return std::move(past_);
    begin_stages();
    for (const Bought& bought : history_.bought) add(bought);
    for (const log::Entry* entry : effective_) {
      if (const auto* rest = std::get_if<log::Balance>(&entry->event)) add_rest(*entry, *rest);
    }
    add_jobs();
    set_money();
    tell_money();
    sort();
    return std::move(past_);
  }

 private:
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }

  void begin_stages() {
    const int last = stage_on(benches_, day_);
    for (int s = 0; s <= last; ++s) {
      PastStage stage;
      stage.number = s + 1;
      stage.over = benches_[at(s)] < day_;
      stage.payday = paydays_[at(s)];
      stage.bench = benches_[at(s)];
      stage.minutes_limit = bench_time(build_, calendar_of(build_.money), s).minutes;
      past_.stages.push_back(std::move(stage));
    }
  }

  PastStage& stage_at(Date date) { return past_.stages[at(stage_on(benches_, std::min(date, day_)))]; }
  Date end_of(const PastStage& stage) const {
    return stage.number == std::ssize(past_.stages) ? day_ : stage.bench;
  }

  std::vector<std::string> remarks_about(const std::string& key) const {
    const auto found = remarks_.find(key);
    return found == remarks_.end() ? std::vector<std::string>{} : found->second;
  }

  // purchases

  PastKind kind_of(const Bought& bought) const {
    switch (bought.what.kind) {
      case Kind::delivery:
        return PastKind::delivery;
      case Kind::hire:
        return PastKind::hire;
      case Kind::fee:
        return PastKind::fee;
      case Kind::other:
        return bought.key.starts_with("allowance:") ? PastKind::allowance : PastKind::besides;
      case Kind::article:
        break;
    }
    const int a = find_id(build_.articles, bought.what.id);
    return a < 0 ? PastKind::besides : static_cast<PastKind>(build_.articles[at(a)].kind);
  }

  /// As the shopping list names it. Of what no plan names the first remark tells what it was.
  void name(PastPurchase& to, const Bought& bought) const {
    const build::Id& id = bought.what.id;
    const int a = find_id(build_.articles, id), j = find_id(build_.jobs, id);
    const build::Id from = bought.what.kind == Kind::delivery
                               ? bought.what.id.substr(0, bought.what.id.find('@'))
                               : supplier_of(build_, bought);
    const int s = find_id(build_.suppliers, from);
    if (s >= 0) to.supplier = build_.suppliers[at(s)].name;
    if (to.kind == PastKind::delivery)
      to.name = "Delivery";
    else if (to.kind == PastKind::hire)
      to.name = "Hire: " + (a < 0 ? id : build_.articles[at(a)].name);
    else if (to.kind == PastKind::fee)
      to.name = "Fee: " + (j < 0 ? id : build_.jobs[at(j)].name);
    else if (to.kind == PastKind::allowance)
      to.name = "Allowance for the unforeseen";
    else if (a >= 0)
      to.name = build_.articles[at(a)].name;
    else if (to.remarks.empty())
      to.name = bought.key;
    else {
      to.name = to.remarks.front();
      to.remarks.erase(to.remarks.begin());
    }
  }

  std::string state_of(const Bought& bought) const {
    std::string text;
    const auto add = [&](const std::string& more) { text += (text.empty() ? "" : "; ") + more; };
    for (const auto& [how, packs] : bought.gone)
      add(packs == bought.ordered ? spaced(how)
                                  : fmt::format("{} of {} {}", packs, bought.ordered, spaced(how)));
    const bool waits = bought.arrives > bought.date && bought.packs > 0;
    const std::string due = budgets::write_date(bought.arrives);
    if (bought.came && bought.packs > 0) {
      add("arrived " + due);
    } else if (waits && bought.arrives > day_) {
      add("on its way, due " + due);
    } else if (waits) {
      add("was due " + due + ", taken as arrived");
    }
    if (bought.rest > Money())
      add(fmt::format("{} still to be paid on {}", budgets::write_money(bought.rest, build_.currency),
                      budgets::write_date(bought.rest_on)));
    return text;
  }

  void add(const Bought& bought) {
    PastPurchase to;
    to.entry = bought.number;
    to.key = bought.key;
    to.kind = kind_of(bought);
    to.stage = stage_at(bought.date).number;
    to.bought = bought.date;
    to.arrives = bought.arrives;
    to.packs = bought.ordered;
    to.packs_left = bought.packs;
    to.remarks = remarks_about(bought.key);
    if (bought.what.kind == Kind::article) to.article = bought.what.id;
    to.planned = planned_for(build_, bought);
    if (const build::Offer* offer = offer_behind(build_, bought)) to.price = offer->price.likely;
    to.paid = bought.paid;
    to.state = state_of(bought);
    to.by = log_.entries[at(static_cast<int>(bought.number) - 1)].by;
    name(to, bought);
    count(to);
  }

  void add_rest(const log::Entry& entry, const log::Balance& rest) {
    rests_.insert(entry.number);
    const auto found = std::find_if(past_.purchases.begin(), past_.purchases.end(),
                                    [&](const PastPurchase& one) { return one.key == rest.key; });
    PastPurchase to;
    if (found != past_.purchases.end()) {
      to.supplier = found->supplier;
      to.kind = found->kind;
    }
    to.name = "Rest of " + (found != past_.purchases.end() ? found->name : rest.key);
    to.entry = entry.number;
    to.key = rest.key;
    to.stage = stage_at(entry.date).number;
    to.bought = to.arrives = entry.date;
    to.paid = rest.amount;
    to.by = entry.by;
    count(to);
  }

  void count(PastPurchase& purchase) {
    PastStage& stage = past_.stages[at(purchase.stage - 1)];
    stage.planned += purchase.planned;
    stage.paid += purchase.paid;
    past_.purchases.push_back(std::move(purchase));
  }

  // jobs

  void add_jobs() {
    std::set<build::Id> done;
    for (const Done& one : history_.done) done.insert(one.job);
    for (const log::Entry* entry : effective_) {
      if (const auto* fitted = std::get_if<log::Fitted>(&entry->event)) {
        if (fitted_.insert(fitted->job).second)
          add_job(*entry, fitted->job, PastJob::State::done, fitted->minutes);
      } else if (const auto* begun = std::get_if<log::Begun>(&entry->event)) {
        if (done.count(begun->job) == 0) add_job(*entry, begun->job, PastJob::State::begun, begun->minutes);
      } else if (const auto* given_up = std::get_if<log::GivenUp>(&entry->event)) {
        if (done.count(given_up->job) == 0)
          add_job(*entry, given_up->job, PastJob::State::given_up, std::nullopt);
      }
    }
  }

  void add_job(const log::Entry& entry, const build::Id& id, PastJob::State state,
               std::optional<std::int64_t> taken) {
    PastJob job;
    job.state = state;
    job.entry = entry.number;
    job.id = id;
    job.name = id;
    job.date = entry.date;
    job.taken = taken;
    job.by = entry.by;
    PastStage& stage = stage_at(entry.date);
    job.stage = stage.number;
    if (const int j = find_id(build_.jobs, id); j >= 0) {
      const build::Job& from = build_.jobs[at(j)];
      job.name = from.name;
      job.want = from.want.value_or(0);
      job.minutes = from.minutes;
      job.minutes_in_all = planned_minutes(build_, from);
    }
    if (state != PastJob::State::begun) job.remarks = remarks_about(id);
    stage.minutes_taken += taken.value_or(0);
    if (state == PastJob::State::done) stage.minutes_planned += job.minutes_in_all;
    past_.jobs.push_back(std::move(job));
  }

  // money

  /// What counting found up to and with each count, by its entry's day.
  std::map<Date, Money> found_by_counting() const {
    std::vector<Count> counts;
    for (const log::Entry* entry : effective_)
      if (const auto* one = std::get_if<log::Counted>(&entry->event))
        counts.push_back({entry->date, entry->number, one->cash});
    std::stable_sort(counts.begin(), counts.end(),
                     [](const Count& a, const Count& b) { return a.date < b.date; });
    History history = history_;
    history.count.reset();
    const Money uncounted = cash_on(build_, history, day_);
    std::map<Date, Money> found;
    Money before;
    for (const Count& count : counts) {
      history.count = count;
      history.brought_at_count = brought_up_to(log_, count.date);
      const Money so_far = cash_on(build_, history, day_) - uncounted;
      found[count.date] += so_far - before;
      before = so_far;
    }
    return found;
  }

  void set_money() {
    Money before = past_.opening;
    for (PastStage& stage : past_.stages) {
      const Date end = end_of(stage);
      const Money brought = brought_on(build_, brought_up_to(log_, end), end);
      stage.money_in = brought - before;
      before = brought;
    }
    for (const MovedMoney& moved : history_.moved)
      if (rests_.count(moved.number) == 0) stage_at(moved.date).money_in += moved.amount;
    for (const auto& [date, found] : found_by_counting()) stage_at(date).money_in += found;
    Money left = past_.opening;
    for (PastStage& stage : past_.stages) {
      left = left + stage.money_in - stage.paid;
      stage.left = left;
    }
  }

  void tell(Date date, const std::string& text) { stage_at(date).remarks.push_back(text); }
  std::string amount(Money one) const { return budgets::write_money(one, build_.currency); }

  void tell_money() {
    for (const build::Extra& extra : build_.money.extras)
      if (extra.date <= day_)
        tell(extra.date,
             fmt::format("{}: {} on {}.", extra.what, amount(extra.amount), budgets::write_date(extra.date)));
    for (const MovedMoney& moved : history_.moved)
      if (rests_.count(moved.number) == 0)
        tell(moved.date,
             fmt::format("{}: {} on {}.", moved.text, amount(moved.amount), budgets::write_date(moved.date)));
    for (const auto& [date, found] : found_by_counting())
      tell(date, found == Money()
                     ? fmt::format("Counted on {}: as reckoned.", budgets::write_date(date))
                     : fmt::format("Counted on {}: {} {} than reckoned.", budgets::write_date(date),
                                   amount(found > Money() ? found : Money() - found),
                                   found > Money() ? "more" : "less"));
    for (const log::Entry* entry : effective_) {
      const auto* remark = std::get_if<log::Remark>(&entry->event);
      if (remark != nullptr && remark->about.empty()) tell(entry->date, remark->text);
    }
  }

  void sort() {
    std::stable_sort(past_.purchases.begin(), past_.purchases.end(), [](const auto& a, const auto& b) {
      return std::tie(a.stage, a.supplier, a.bought, a.entry) <
             std::tie(b.stage, b.supplier, b.bought, b.entry);
    });
    std::stable_sort(past_.jobs.begin(), past_.jobs.end(),
                     [](const auto& a, const auto& b) { return a.date < b.date; });
  }

  const build::Build& build_;
  const log::Log& log_;
  History history_;
  Date day_;
  std::vector<Date> paydays_, benches_;
  std::vector<const log::Entry*> effective_;
  std::map<std::string, std::vector<std::string>> remarks_;  ///< by what they are about
  std::set<std::int64_t> rests_;                             ///< entries
  std::set<build::Id> fitted_;
  Past past_;
};

}  // namespace

Past past_of(const build::Build& build, const log::Log& log, Date day) {
  Past past = Rememberer(build, log, day).remember();
  past.year = year_of(build, log, day);
  return past;
}

}  // namespace fettlefund::planning
