#include "lib/sheets/read_back/settle.hpp"

#include <algorithm>
#include <set>

#include "lib/progress/history.hpp"
#include "lib/progress/open_order.hpp"
#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/counts.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stages.hpp"
#include "lib/text/nearest.hpp"

#include <fmt/format.h>

namespace fettlefund::sheets {
namespace {

using budgets::Date;
using budgets::Money;
using planning::ShoppingKey;

constexpr int kYear = 366;

/// What the log holds of one key.
struct Known {
  std::int64_t packs = 0, entry = 0;
  Money since, before;  ///< paid after and before the workbook was written
  Date date;
  std::string key{};     ///< that the log has it under
  bool decided = false;  ///< its amount was put right by an entry of its own
};

class Settler {
 public:
  Settler(const Readback& back, const build::Build& build, const log::Log& log, Date day)
      : back_(back),
        build_(build),
        log_(log),
        history_(planning::history_of(log, planning::last_date)),
        day_(day) {
    paydays_ = planning::calendar_of(build.money).paydays;
    const std::vector<bool> counts = log::effective(log);
    for (std::size_t i = 0; i < log.entries.size(); ++i) {
      const auto* remark = std::get_if<log::Remark>(&log.entries[i].event);
      const auto* paid = std::get_if<log::Paid>(&log.entries[i].event);
      if (paid && counts[i] && log.entries[i].number > back.record.log_entries) decided_.insert(paid->key);
      if (remark && counts[i]) remarks_.emplace(remark->about, remark->text);
    }
    first_ = (paydays_.empty() ? day : paydays_.front()) - kYear;
  }

  Settled run() {
    to_.remarkable = back_.remarkable;
    const std::string other = another();
    if (!other.empty()) return refuse_all(other);
    tell_age();
    for (const Said& said : back_.said) {
      said_ = &said;
      std::visit(*this, said.what);
    }
    count_anew();
    to_.proposed.insert(to_.proposed.end(), counted_.begin(), counted_.end());
    for (Proposed& one : to_.proposed) one.entry.by = back_.by;
    if (!back_.by.empty() && back_.said.empty())
      to_.remarkable.push_back({false, kOverview, back_.by_cell, "a name, and nothing else that is typed"});
    tell_deliveries();
    tell_untold();
    return std::move(to_);
  }

  void operator()(const SaidBought& said) {
    told_.insert(said.key);
    told_.insert(said.row_key);
    if (!known_to_build(said.key)) return;
    Known known = known_of(said.key);
    if (known.packs == 0 && !said.row_key.empty()) known = known_of(said.row_key);
    if (known.packs == 0) known = same_under_another_key(said);
    const Date on = said.on ? *said.on : known.packs == 0 ? day_of(said) : day_;
    if (!day_fits(on)) return;
    if (known.packs == 0) return add_bought(said, on);
    compare_paid(said, known);
    if (said.packs != known.packs)
      tell(false, fmt::format("{} packs here, {} in entry {} of the log; that stays", said.packs, known.packs,
                              known.entry));
    if (said.on && *said.on != known.date)
      tell(false, fmt::format("bought on {} here, on {} in entry {} of the log; that stays",
                              budgets::write_date(*said.on), budgets::write_date(known.date), known.entry));
  }

  void operator()(const SaidDone& said) {
    told_.insert(said.job);
    const Date on = said.on.value_or(day_);
    if (planning::find_id(build_.jobs, said.job) < 0)
      return tell(true, unknown(said.job, "a job", build_.jobs));
    const auto before = std::find_if(history_.done.begin(), history_.done.end(),
                                     [&](const planning::Done& one) { return one.job == said.job; });
    if (before == history_.done.end()) {
      if (day_fits(on)) propose(on, log::Fitted{said.job, said.minutes});
      return;
    }
    const bool same =
        (!said.on || *said.on == before->date) && (!said.minutes || said.minutes == before->minutes);
    if (same) return void(++to_.known);
    tell(true, fmt::format("{} is recorded otherwise: {} on {}; undo that entry first, or put this right",
                           said.job, log::in_words(log::Fitted{said.job, before->minutes}, build_.currency),
                           budgets::write_date(before->date)));
  }

  /// What the workbook tells besides is paid by then, so it comes last.
  void operator()(const SaidCounted& said) {
    const Date on = said.on.value_or(day_);
    for (const CountedCash& one : counted_since(log_, back_.record.log_entries)) {
      if (one.cash == said.cash && (!said.on || one.date == on)) return void(++to_.known);
      if (one.date == on)
        return tell(true, fmt::format("{} counted here, {} in entry {} of the log on the same day; which is "
                                      "right? Undo that entry, or put this right",
                                      budgets::write_money(said.cash, build_.currency),
                                      budgets::write_money(one.cash, build_.currency), one.entry));
    }
    if (day_fits(on)) counted_.push_back({said_->sheet, said_->cell, {on, log::Counted{said.cash}}});
  }

  /// What is recorded since the workbook was written and says the same is known; what says otherwise is asked
  /// about.
  void operator()(const SaidState& said) {
    const auto bought = std::find_if(history_.bought.begin(), history_.bought.end(),
                                     [&](const planning::Bought& one) { return one.number == said.entry; });
    if (bought == history_.bought.end())
      return tell(true, fmt::format("entry {}, which bought it, counts no more", said.entry));
    const Date on = said.on.value_or(day_);
    if (!day_fits(on)) return;
    if (on < bought->date)
      return tell_at(said_->day_cell, true,
                     fmt::format("{} is before {}, when it was bought", budgets::write_date(on),
                                 budgets::write_date(bought->date)));
    if (said.how.empty()) return refund(said, on);
    if (said.how == kArrived) {
      if (since<log::Arrives>([&](const auto& one) { return one.key == said.key; }, said.on))
        return void(++to_.known);
      return propose(on, log::Arrives{said.key, on});
    }
    const auto* before = since<log::Gone>(
        [&](const auto& one) { return one.key == said.key && one.how == said.how; }, said.on);
    const std::int64_t packs = said.packs.value_or(before != nullptr ? before->packs : bought->packs);
    const Money back = said.back.value_or(Money());
    if (before != nullptr && before->packs == packs && before->back == back) return void(++to_.known);
    if (before != nullptr)
      return tell(true, fmt::format("recorded otherwise since: {}; undo that entry first, or put this right",
                                    log::in_words(*before, build_.currency)));
    if (packs > bought->packs || packs < 1)
      return tell(true, fmt::format("{} packs of {} that are left", packs, bought->packs));
    propose(on, log::Gone{bought->what.id, packs, said.how, back, said.key});
  }

  void operator()(const SaidUnfinished& said) {
    if (planning::find_id(build_.jobs, said.job) < 0)
      return tell(true, unknown(said.job, "a job", build_.jobs));
    const bool fitted = std::any_of(history_.done.begin(), history_.done.end(),
                                    [&](const planning::Done& one) { return one.job == said.job; });
    if (fitted) return tell(true, said.job + " is recorded as fitted; undo that entry first");
    const bool known =
        said.minutes ? since<log::Begun>([&](const auto& one) {
                         return one.job == said.job && one.minutes == *said.minutes;
                       }) != nullptr
                     : since<log::GivenUp>([&](const auto& one) { return one.job == said.job; }) != nullptr;
    if (known) return void(++to_.known);
    const Date on = said.on.value_or(day_);
    if (!day_fits(on)) return;
    if (said.minutes)
      propose(on, log::Begun{said.job, *said.minutes, {}});
    else
      propose(on, log::GivenUp{said.job});
  }

  void operator()(const SaidRemark& said) {
    if (remarks_.count({said.about, said.text}) != 0) return void(++to_.known);
    propose(day_, log::Remark{said.about, said.text});
  }

 private:
  /// Cash that was counted since the workbook was written has what this copy tells of that day paid, as if
  /// the copies had come the other way round: it is counted anew behind that.
  void count_anew() {
    for (const CountedCash& one : counted_since(log_, back_.record.log_entries)) {
      const auto moved =
          std::find_if(to_.proposed.begin(), to_.proposed.end(), [&](const Proposed& proposed) {
            return proposed.entry.date == one.date && moves_cash(proposed.entry.event);
          });
      if (moved == to_.proposed.end()) continue;
      to_.remarkable.push_back(
          {false, moved->sheet, moved->cell,
           fmt::format(
               "cash was counted on {} by entry {} of the log, since this workbook was written: what is "
               "told here of that day is taken as paid by then, and the count is recorded again behind it",
               budgets::write_date(one.date), one.entry)});
      counted_.push_back({moved->sheet, moved->cell, {one.date, log::Undo{one.entry}}});
      counted_.push_back({moved->sheet, moved->cell, {one.date, log::Counted{one.cash}}});
    }
  }

  /// The first living entry of that kind since the workbook was written that is `meant`; none: nullptr. That
  /// it has another day than what is typed beside it is told.
  template <class Kind, class Meant>
  const Kind* since(Meant meant, std::optional<Date> on = {}) {
    const std::vector<bool> counts = log::effective(log_);
    for (std::size_t i = 0; i < log_.entries.size(); ++i) {
      const log::Entry& entry = log_.entries[i];
      const auto* one = std::get_if<Kind>(&entry.event);
      if (one == nullptr || !counts[i] || entry.number <= back_.record.log_entries || !meant(*one)) continue;
      if (on && *on != entry.date)
        tell_at(said_->day_cell, false,
                fmt::format("on {} here, on {} in entry {} of the log; that stays", budgets::write_date(*on),
                            budgets::write_date(entry.date), entry.number));
      return one;
    }
    return nullptr;
  }

  /// Money for something that stays.
  void refund(const SaidState& said, Date on) {
    if (*said.back <= Money()) return tell(true, "expected an amount above zero that came back");
    const log::Moved moved{*said.back, "refund for " + said.key};
    if (since<log::Moved>(
            [&](const auto& one) { return one.text == moved.text && one.amount == moved.amount; }, said.on))
      return void(++to_.known);
    propose(on, moved);
  }

  /// A typed amount goes before one that was only planned. Two typed ones that differ are the user's to
  /// decide, whoever was first; once decided (`paid`), the decision stays.
  void compare_paid(const SaidBought& said, const Known& known) {
    if (!said.paid_is_typed || said.paid == known.since || said.paid == said.planned)
      return void(++to_.known);
    if (said.planned && known.since == *said.planned)
      return propose(day_, log::Paid{known.key, said.paid + known.before});
    const auto amount = [&](Money one) { return budgets::write_money(one, build_.currency); };
    if (known.decided)
      return tell(false, fmt::format("{} paid here, {} by the log; that stays", amount(said.paid),
                                     amount(known.since)));
    tell(true,
         fmt::format("{} paid here, {} in entry {} of the log; which is right? record BUILD paid {} AMOUNT "
                     "decides it",
                     amount(said.paid), amount(known.since), known.entry, known.key));
  }

  /// The supplier whose name the sheet has; empty: none, or no longer one of the build.
  build::Id supplier_named(const std::string& shown) const {
    for (const build::Supplier& supplier : build_.suppliers) {
      if (!shown.empty() && planning::names_supplier(shown, supplier.name)) return supplier.id;
    }
    return {};
  }

  /// A purchase is named by what was bought, not by the stage that the plan of the moment bought it for: what
  /// was recorded since the workbook was written, from this supplier, under a key that the workbook does not
  /// have, is the same purchase told by somebody else.
  Known same_under_another_key(const SaidBought& said) {
    const ShoppingKey what = planning::read_key(said.key);
    const build::Id from = supplier_named(said.supplier);
    for (const planning::Bought& one : history_.bought) {
      const bool same = one.what.kind == what.kind && one.what.id == what.id && !what.id.empty();
      if (!same || one.number <= back_.record.log_entries || back_.keys.count(one.key) != 0) continue;
      const build::Id other = planning::supplier_of(build_, one);
      if ((!from.empty() && !other.empty() && from != other) || !told_.insert(one.key).second) continue;
      tell(false,
           fmt::format("taken as what entry {} of the log tells ({} on {}); if it was bought once more: "
                       "record BUILD bought {} --again",
                       one.number, one.key, budgets::write_date(one.date), said.key));
      return known_of(one.key);
    }
    return {};
  }

  /// Of what has no day of its own: the payday of the stage that it names, if that is over.
  Date day_of(const SaidBought& said) {
    if (!said.stage || *said.stage < 1 || *said.stage > static_cast<std::int64_t>(paydays_.size()))
      return day_;
    const Date payday = paydays_[static_cast<std::size_t>(*said.stage - 1)];
    if (const auto counted = counted_up_to(log_, back_.record.log_entries);
        counted && payday <= *counted && *counted <= day_) {
      tell(false,
           fmt::format("cash was counted on {}, before this workbook was written; it is taken as paid on {}, "
                       "not on the payday of stage {}",
                       budgets::write_date(*counted), budgets::write_date(day_), *said.stage));
      return day_;
    }
    if (payday <= day_) return payday;
    tell(false, fmt::format("the payday of stage {} is {}; it is taken as paid on {}", *said.stage,
                            budgets::write_date(payday), budgets::write_date(day_)));
    return day_;
  }

  /// Nothing is typed there, so no cell holds it.
  void tell_deliveries() {
    for (const SilentDelivery& one : back_.deliveries) {
      if (known_of(one.key).packs > 0) continue;
      to_.remarkable.push_back(
          {false, one.sheet, "",
           fmt::format(
               "goods from {} are bought, but their delivery, {} {}, is neither ticked nor paid, so it "
               "is not recorded; if there was none, type 0 under Paid",
               one.supplier, budgets::write_money(one.amount, build_.currency), build_.currency.code)});
    }
  }

  /// What was recorded since the workbook was written and is not told by it: unticked, or told elsewhere.
  void tell_untold() {
    said_ = nullptr;
    std::set<std::string> untold;
    for (const planning::Bought& one : history_.bought)
      if (one.number > back_.record.log_entries && told_.count(one.key) == 0) untold.insert(one.key);
    std::string names;
    for (const std::string& key : untold) names += (names.empty() ? "" : ", ") + key;
    if (!untold.empty())
      tell(false,
           fmt::format("recorded as bought, but neither ticked nor paid here: {}; that stays (undo takes "
                       "an entry back)",
                       names));
  }

  void tell(bool error, const std::string& text) { tell_at(said_ ? said_->cell : "", error, text); }
  void tell_at(const std::string& cell, bool error, const std::string& text) {
    to_.remarkable.push_back({error, said_ ? said_->sheet : "", cell, text});
  }

  void propose(Date date, log::Event event) {
    const std::string fault = log::fault_of(event);
    if (!fault.empty()) return tell(true, "this cannot be recorded: expected " + fault);
    to_.proposed.push_back({said_->sheet, said_->cell, {date, std::move(event)}});
  }

  /// Why the workbook is another build's; empty: it is this one's.
  std::string another() const {
    const PlanRecord& record = back_.record;
    if (record.build != build_.name)
      return fmt::format("the workbook is of the build '{}', not of '{}'", record.build, build_.name);
    if (record.currency != build_.currency.code)
      return fmt::format("the workbook's amounts are in {}, the build's in {}", record.currency,
                         build_.currency.code);
    if (!record.log_id.empty() && record.log_id != log_.id)
      return "the workbook was planned with another log than the one beside the build file";
    if (record.log_entries > static_cast<std::int64_t>(log_.entries.size()))
      return fmt::format("the workbook was planned with {} log lines, and the log has only {}",
                         record.log_entries, log_.entries.size());
    return {};
  }

  Settled refuse_all(const std::string& why) {
    tell(true, why);
    for (const Said& said : back_.said) {
      said_ = &said;
      tell(true, "not taken: " + why);
    }
    return std::move(to_);
  }

  void tell_age() {
    if (!build_.fingerprint.empty() && !back_.record.build_fingerprint.empty() &&
        build_.fingerprint != back_.record.build_fingerprint)
      tell(false,
           "the workbook is of an older plan: the build file has changed since it was written; each line "
           "below is still taken");
    const std::size_t since = log_.entries.size() - static_cast<std::size_t>(back_.record.log_entries);
    if (since > 0)
      tell(false, fmt::format("the workbook is of an older plan: {} log {} written since; what they hold is "
                              "not recorded again",
                              since, since == 1 ? "line was" : "lines were"));
  }

  bool day_fits(Date on) {
    const std::string& cell = said_->day_cell.empty() ? said_->cell : said_->day_cell;
    if (on > day_)
      tell_at(cell, true,
              fmt::format("{} is after {}, the day of this recording; has it happened? Then give --on",
                          budgets::write_date(on), budgets::write_date(day_)));
    else if (on < first_)
      tell_at(cell, true,
              fmt::format("{} is more than a year before the first payday", budgets::write_date(on)));
    return on <= day_ && on >= first_;
  }

  template <class Entries>
  static std::string unknown(const build::Id& id, const std::string& what, const Entries& entries) {
    std::vector<std::string> names;
    for (const auto& entry : entries) names.push_back(entry.id);
    const std::string nearest = text::nearest_name(id, text::Names(std::move(names)));
    return fmt::format("'{}' is not {} of the build any more{}", id, what,
                       nearest.empty() ? "" : "; did it become '" + nearest + "'?");
  }

  template <class Entries>
  bool look(const build::Id& id, const std::string& what, const Entries& entries) {
    if (planning::find_id(entries, id) >= 0) return true;
    tell(true, unknown(id, what, entries));
    return false;
  }

  bool known_to_build(const std::string& key) {
    const ShoppingKey what = planning::read_key(key);
    switch (what.kind) {
      case ShoppingKey::Kind::article:
        return look(what.id, "an article", build_.articles);
      case ShoppingKey::Kind::hire:
        return look(what.id, "a tool", build_.articles);
      case ShoppingKey::Kind::delivery:
        return look(what.id, "a supplier", build_.suppliers);
      case ShoppingKey::Kind::fee:
        return look(what.id, "a job", build_.jobs);
      case ShoppingKey::Kind::other:
        break;
    }
    return true;
  }

  Known known_of(const std::string& key) const {
    Known known;
    known.key = key;
    known.decided = decided_.count(key) != 0;
    for (const planning::Bought& one : history_.bought) {
      if (one.key != key) continue;
      if (one.number <= back_.record.log_entries) {
        known.before += one.paid;
        continue;
      }
      if (known.packs == 0) known.date = one.date;
      known.packs += one.ordered;
      known.since += one.paid;
      known.entry = one.number;
    }
    return known;
  }

  void add_bought(const SaidBought& said, Date on) {
    log::Bought bought{said.key, said.packs, said.paid, {}, {}};
    const ShoppingKey what = planning::read_key(said.key);
    if (what.kind == ShoppingKey::Kind::article) bought.supplier = supplier_named(said.supplier);
    const std::optional<Date> arrives =
        said.arrives_is_typed ? said.arrives : arrival(what, bought.supplier, said, on);
    if (arrives && *arrives > on && *arrives <= planning::last_date) bought.arrives = arrives;
    if (said.arrives_is_typed && said.arrives && *said.arrives < on)
      return tell(true, fmt::format("it arrives on {}, before it is bought on {}",
                                    budgets::write_date(*said.arrives), budgets::write_date(on)));
    propose(on, std::move(bought));
  }

  /// Of what was bought on another day than planned: so many days later as that offer takes.
  std::optional<Date> arrival(const ShoppingKey& what, const build::Id& supplier, const SaidBought& said,
                              Date on) const {
    const int a = supplier.empty() ? -1 : planning::find_id(build_.articles, what.id);
    std::optional<int> days;
    for (std::size_t i = 0; a >= 0 && i < build_.articles[static_cast<std::size_t>(a)].offers.size(); ++i) {
      const build::Offer& offer = build_.articles[static_cast<std::size_t>(a)].offers[i];
      if (offer.supplier != supplier) continue;
      if (said.planned == offer.price.likely * said.packs) return on + offer.lead_days;
      days = std::max(days.value_or(0), offer.lead_days);
    }
    return days ? std::optional(on + *days) : said.arrives;
  }

  const Readback& back_;
  const build::Build& build_;
  const log::Log& log_;
  planning::History history_;
  Date day_, first_;
  std::vector<Date> paydays_;
  std::set<std::string> told_;                             ///< keys and jobs
  std::set<std::string> decided_;                          ///< keys whose amount the log corrects
  std::set<std::pair<std::string, std::string>> remarks_;  ///< that the log holds
  std::vector<Proposed> counted_;
  const Said* said_ = nullptr;
  Settled to_;
};

}  // namespace

Settled settle(const Readback& back, const build::Build& build, const log::Log& log, budgets::Date day) {
  return Settler(back, build, log, day).run();
}

}  // namespace fettlefund::sheets
