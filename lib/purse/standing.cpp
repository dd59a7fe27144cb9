#include "lib/purse/standing.hpp"

#include <limits>

#include "lib/outcome/words.hpp"
#include "lib/progress/closing.hpp"
#include "lib/progress/open_order.hpp"
#include "lib/staging/stages.hpp"

namespace fettlefund::purse {
namespace {

using budgets::Date;
using budgets::Money;
using planning::Elsewhere;
using planning::History;

/// The last count of all; nothing: nobody counted.
struct LastCount {
  planning::Count count;
  std::size_t build = 0;
};

std::optional<LastCount> last_count(const std::vector<History>& histories) {
  std::optional<LastCount> last;
  for (std::size_t b = 0; b < histories.size(); ++b) {
    const auto& count = histories[b].count;
    if (count && (!last || count->date >= last->count.date)) last = LastCount{*count, b};
  }
  return last;
}

/// What the purse brought, as the records noted it.
struct Noted {
  std::optional<planning::Brought> last, at_count;
};

/// A history by the purse's last count. In another record than that of the count nothing orders what is of
/// its day: the day's end is counted.
History with_count(History history, const std::optional<LastCount>& last, const Noted& noted,
                   std::size_t build) {
  history.brought = noted.last;
  history.brought_at_count = noted.at_count;
  history.count.reset();
  if (!last) return history;
  history.count = last->count;
  if (last->build != build) history.count->number = std::numeric_limits<std::int64_t>::max();
  return history;
}

/// Takes together what the other builds' records say.
class Others {
 public:
  Others(const Purse& purse, std::vector<History> histories, Date day)
      : purse_(purse), histories_(std::move(histories)), day_(day), cash_(cash_on(purse, histories_, day)) {
    const build::Build& first = purse.members.front().build;
    const auto paydays = planning::calendar_of(first.money).paydays;
    const auto over = static_cast<std::size_t>(planning::stages_over(first, day));
    all_over_ = over == paydays.size();
    if (!all_over_) payday_ = paydays[over];
  }

  bool all_over() const { return all_over_; }

  Elsewhere of(std::size_t own) const {
    Elsewhere elsewhere{cash_.amount, cash_.since, cash_.past, 0, {}, {}};
    for (std::size_t b = 0; b < histories_.size(); ++b) {
      if (b != own) add(elsewhere, purse_.members[b].build, histories_[b]);
    }
    return elsewhere;
  }

 private:
  void add(Elsewhere& to, const build::Build& build, const History& history) const {
    to.minutes_gone += planning::minutes_gone(build, history, payday_);
    for (build::Extra rest : planning::rests_of(history, day_)) {
      rest.what += " of " + build.name;
      to.rests.push_back(std::move(rest));
    }
    for (planning::Bought bought : history.bought) {
      // Another build's articles may have the same ids.
      if (bought.what.kind == planning::ShoppingKey::Kind::article)
        bought.supplier = planning::supplier_of(build, bought);
      if (bought.what.kind == planning::ShoppingKey::Kind::article && bought.supplier.empty()) continue;
      to.bought.push_back(std::move(bought));
    }
  }

  const Purse& purse_;
  std::vector<History> histories_;
  Date day_, payday_;
  Cash cash_;
  bool all_over_ = false;
};

/// The past is what the records say, whatever becomes of the purse file.
std::string changed_past(const build::Build& shared, const std::optional<planning::Brought>& noted) {
  if (!noted) return {};
  const Money now_written = planning::brought_on(shared, {}, noted->date);
  if (now_written == noted->amount) return {};
  return "Up to " + budgets::write_date(noted->date) +
         " the opening cash, income and dated money of the purse came to " +
         planning::money_text(shared, noted->amount) +
         " when that was recorded, and that counts; by the purse file as it is now they would come to " +
         planning::money_text(shared, now_written) +
         ". What really came or went besides is recorded with `record in` and `record out` of a build.";
}

}  // namespace

std::optional<planning::Brought> noted_up_to(const std::vector<History>& histories, Date day) {
  std::optional<planning::Brought> latest;
  for (const History& history : histories) {
    for (const planning::Brought& one : history.purse_brought) {
      if (one.date <= day && (!latest || latest->date <= one.date)) latest = one;
    }
  }
  return latest;
}

Cash cash_on(const Purse& purse, const std::vector<History>& histories, Date day) {
  const build::Build& shared = purse.members.front().build;  // all have the purse's money
  const std::optional<LastCount> last = last_count(histories);
  const Noted noted{noted_up_to(histories, day),
                    last ? noted_up_to(histories, last->count.date) : std::nullopt};
  const Money still = planning::cash_on(shared, with_count({}, last, noted, histories.size()), day);
  Cash cash{still,
            last ? "the purse's, counted on " + budgets::write_date(last->count.date) + " by the record of " +
                       purse.members[last->build].build.name + ", with what came and went since"
                 : "the purse's, not counted yet: worked out from its opening cash, dated money and what was "
                   "bought",
            changed_past(shared, noted.last)};
  for (std::size_t b = 0; b < histories.size(); ++b)
    cash.amount += planning::cash_on(shared, with_count(histories[b], last, noted, b), day) - still;
  return cash;
}

Standing stand_on(const Purse& purse, const std::vector<log::Log>& logs, Date day, std::int64_t keep_days) {
  std::vector<History> histories;
  for (const log::Log& log : logs) histories.push_back(planning::history_of(log, day));
  const Others others(purse, std::move(histories), day);
  Standing standing;
  if (others.all_over()) return standing;
  standing.purse = Purse{purse.file, purse.name, {}};
  for (std::size_t b = 0; b < purse.members.size(); ++b) {
    const Member& member = purse.members[b];
    const Elsewhere elsewhere = others.of(b);
    planning::Standing own = planning::stand_on(member.build, logs[b], day, keep_days, &elsewhere);
    standing.purse->members.push_back({member.id, member.path, std::move(*own.build)});
    standing.told.push_back({std::move(own.notes), std::move(own.closed)});
  }
  return standing;
}

Planning replan(const Standing& standing, const budgets::SolveOptions& options) {
  Planning planning = plan(*standing.purse, options);
  if (auto* outcome = std::get_if<Outcome>(&planning)) {
    for (std::size_t b = 0; b < standing.told.size(); ++b) {
      planning::Outcome& share = outcome->shares[b].outcome;
      const Told& told = standing.told[b];
      share.so_far = told.notes;
      share.left_out.insert(share.left_out.begin(), told.closed.begin(), told.closed.end());
    }
  }
  return planning;
}

}  // namespace fettlefund::purse
