#include "lib/sheets/read_back/settle.hpp"

#include <algorithm>
#include <set>

#include "lib/sheets/pages/pages.hpp"
#include "lib/sheets/read_back/counts.hpp"
#include "lib/sheets/read_back/settle_bought.hpp"

namespace fettlefund::sheets {
namespace {

using budgets::Date;
using budgets::Money;

class Settler {
 public:
  Settler(const Readback& back, const build::Build& build, const log::Log& log, Date day)
      : at_(back, build, log, day), bought_(at_) {
    const std::vector<bool> counts = log::effective(log);
    for (std::size_t i = 0; i < log.entries.size(); ++i) {
      const auto* remark = std::get_if<log::Remark>(&log.entries[i].event);
      if (remark && counts[i]) remarks_.emplace(remark->about, remark->text);
    }
  }

  Settled run() {
    at_.to.remarkable = at_.back.remarkable;
    const std::string other = another();
    if (!other.empty()) return refuse_all(other);
    tell_age();
    for (const Said& said : at_.back.said) {
      at_.said = &said;
      std::visit(*this, said.what);
    }
    count_anew();
    at_.to.proposed.insert(at_.to.proposed.end(), counted_.begin(), counted_.end());
    for (Proposed& one : at_.to.proposed) one.entry.by = at_.back.by;
    if (!at_.back.by.empty() && at_.back.said.empty())
      at_.to.remarkable.push_back(
          {false, kOverview, at_.back.by_cell, "a name, and nothing else that is typed"});
    bought_.tell_rest();
    return std::move(at_.to);
  }

  void operator()(const SaidBought& said) { bought_.settle(said); }

  void operator()(const SaidDone& said) {
    const Date on = said.on.value_or(at_.day);
    if (planning::find_id(at_.build.jobs, said.job) < 0)
      return at_.tell(true, at_.unknown(said.job, "a job", at_.build.jobs));
    const auto before = std::find_if(at_.history.done.begin(), at_.history.done.end(),
                                     [&](const planning::Done& one) { return one.job == said.job; });
    if (before == at_.history.done.end()) {
      if (at_.day_fits(on)) at_.propose(on, log::Fitted{said.job, said.minutes});
      return;
    }
    const bool same =
        (!said.on || *said.on == before->date) && (!said.minutes || said.minutes == before->minutes);
    if (same) return void(++at_.to.known);
    at_.tell(true,
             fmt::format("{} is recorded otherwise: {} on {}; undo that entry first, or put this right",
                         said.job, log::in_words(log::Fitted{said.job, before->minutes}, at_.build.currency),
                         budgets::write_date(before->date)));
  }

  /// What the workbook tells besides is paid by then, so it comes last.
  void operator()(const SaidCounted& said) {
    const Date on = said.on.value_or(at_.day);
    for (const CountedCash& one : counted_since(at_.log, at_.back.record.log_entries)) {
      if (one.cash == said.cash && (!said.on || one.date == on)) return void(++at_.to.known);
      if (one.date == on)
        return at_.tell(true,
                        fmt::format("{} counted here, {} in entry {} of the log on the same day; which is "
                                    "right? Undo that entry, or put this right",
                                    budgets::write_money(said.cash, at_.build.currency),
                                    budgets::write_money(one.cash, at_.build.currency), one.entry));
    }
    if (at_.day_fits(on))
      counted_.push_back({at_.said->sheet, at_.said->cell, {on, log::Counted{said.cash}}});
  }

  /// What is recorded since the workbook was written and says the same is known; what says otherwise is asked
  /// about.
  void operator()(const SaidState& said) {
    const auto bought = std::find_if(at_.history.bought.begin(), at_.history.bought.end(),
                                     [&](const planning::Bought& one) { return one.number == said.entry; });
    if (bought == at_.history.bought.end())
      return at_.tell(true, fmt::format("entry {}, which bought it, counts no more", said.entry));
    const Date on = said.on.value_or(at_.day);
    if (!at_.day_fits(on)) return;
    if (on < bought->date)
      return at_.tell_at(at_.said->day_cell, true,
                         fmt::format("{} is before {}, when it was bought", budgets::write_date(on),
                                     budgets::write_date(bought->date)));
    if (said.how.empty()) return refund(said, on);
    if (said.how == kArrived) {
      if (at_.since<log::Arrives>([&](const auto& one) { return one.key == said.key; }, said.on))
        return void(++at_.to.known);
      return at_.propose(on, log::Arrives{said.key, on});
    }
    const auto* before = at_.since<log::Gone>(
        [&](const auto& one) { return one.key == said.key && one.how == said.how; }, said.on);
    const std::int64_t packs = said.packs.value_or(before != nullptr ? before->packs : bought->packs);
    const Money back = said.back.value_or(Money());
    if (before != nullptr && before->packs == packs && before->back == back) return void(++at_.to.known);
    if (before != nullptr)
      return at_.tell(true,
                      fmt::format("recorded otherwise since: {}; undo that entry first, or put this right",
                                  log::in_words(*before, at_.build.currency)));
    if (packs > bought->packs || packs < 1)
      return at_.tell(true, fmt::format("{} packs of {} that are left", packs, bought->packs));
    at_.propose(on, log::Gone{bought->what.id, packs, said.how, back, said.key});
  }

  void operator()(const SaidUnfinished& said) {
    if (planning::find_id(at_.build.jobs, said.job) < 0)
      return at_.tell(true, at_.unknown(said.job, "a job", at_.build.jobs));
    const bool fitted = std::any_of(at_.history.done.begin(), at_.history.done.end(),
                                    [&](const planning::Done& one) { return one.job == said.job; });
    if (fitted) return at_.tell(true, said.job + " is recorded as fitted; undo that entry first");
    const bool known =
        said.minutes
            ? at_.since<log::Begun>([&](const auto& one) {
                return one.job == said.job && one.minutes == *said.minutes;
              }) != nullptr
            : at_.since<log::GivenUp>([&](const auto& one) { return one.job == said.job; }) != nullptr;
    if (known) return void(++at_.to.known);
    const Date on = said.on.value_or(at_.day);
    if (!at_.day_fits(on)) return;
    if (said.minutes)
      at_.propose(on, log::Begun{said.job, *said.minutes, {}});
    else
      at_.propose(on, log::GivenUp{said.job});
  }

  void operator()(const SaidRemark& said) {
    if (remarks_.count({said.about, said.text}) != 0) return void(++at_.to.known);
    at_.propose(at_.day, log::Remark{said.about, said.text});
  }

 private:
  /// Cash that was counted since the workbook was written has what this copy tells of that day paid, as if
  /// the copies had come the other way round: it is counted anew behind that.
  void count_anew() {
    for (const CountedCash& one : counted_since(at_.log, at_.back.record.log_entries)) {
      const auto moved =
          std::find_if(at_.to.proposed.begin(), at_.to.proposed.end(), [&](const Proposed& proposed) {
            return proposed.entry.date == one.date && moves_cash(proposed.entry.event);
          });
      if (moved == at_.to.proposed.end()) continue;
      at_.to.remarkable.push_back(
          {false, moved->sheet, moved->cell,
           fmt::format(
               "cash was counted on {} by entry {} of the log, since this workbook was written: what is "
               "told here of that day is taken as paid by then, and the count is recorded again behind it",
               budgets::write_date(one.date), one.entry)});
      counted_.push_back({moved->sheet, moved->cell, {one.date, log::Undo{one.entry}}});
      counted_.push_back({moved->sheet, moved->cell, {one.date, log::Counted{one.cash}}});
    }
  }

  /// Money for something that stays.
  void refund(const SaidState& said, Date on) {
    if (*said.back <= Money()) return at_.tell(true, "expected an amount above zero that came back");
    const log::Moved moved{*said.back, "refund for " + said.key};
    if (at_.since<log::Moved>(
            [&](const auto& one) { return one.text == moved.text && one.amount == moved.amount; }, said.on))
      return void(++at_.to.known);
    at_.propose(on, moved);
  }

  /// Why the workbook is another build's; empty: it is this one's.
  std::string another() const {
    const PlanRecord& record = at_.back.record;
    if (record.build != at_.build.name)
      return fmt::format("the workbook is of the build '{}', not of '{}'", record.build, at_.build.name);
    if (record.currency != at_.build.currency.code)
      return fmt::format("the workbook's amounts are in {}, the build's in {}", record.currency,
                         at_.build.currency.code);
    if (!record.log_id.empty() && record.log_id != at_.log.id)
      return "the workbook was planned with another log than the one beside the build file";
    if (record.log_entries > static_cast<std::int64_t>(at_.log.entries.size()))
      return fmt::format("the workbook was planned with {} log lines, and the log has only {}",
                         record.log_entries, at_.log.entries.size());
    return {};
  }

  Settled refuse_all(const std::string& why) {
    at_.tell(true, why);
    for (const Said& said : at_.back.said) {
      at_.said = &said;
      at_.tell(true, "not taken: " + why);
    }
    return std::move(at_.to);
  }

  void tell_age() {
    if (!at_.build.fingerprint.empty() && !at_.back.record.build_fingerprint.empty() &&
        at_.build.fingerprint != at_.back.record.build_fingerprint)
      at_.tell(false,
               "the workbook is of an older plan: the build file has changed since it was written; each line "
               "below is still taken");
    const std::size_t since = at_.log.entries.size() - static_cast<std::size_t>(at_.back.record.log_entries);
    if (since > 0)
      at_.tell(false,
               fmt::format("the workbook is of an older plan: {} log {} written since; what they hold is "
                           "not recorded again",
                           since, since == 1 ? "line was" : "lines were"));
  }

  Settling at_;
  BoughtSettler bought_;
  std::set<std::pair<std::string, std::string>> remarks_;  ///< that the log holds
  std::vector<Proposed> counted_;
};

}  // namespace

Settled settle(const Readback& back, const build::Build& build, const log::Log& log, budgets::Date day) {
  return Settler(back, build, log, day).run();
}

}  // namespace fettlefund::sheets
