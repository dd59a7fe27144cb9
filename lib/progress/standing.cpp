#include <algorithm>
#include <set>

#include "lib/outcome/words.hpp"
#include "lib/progress/closing.hpp"
#include "lib/progress/open_order.hpp"
#include "lib/progress/replan.hpp"
#include "lib/progress/rest.hpp"
#include "lib/staging/demands.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stock.hpp"

namespace fettlefund::planning {
namespace {

std::string counted_text(std::size_t number, const std::string& one) {
  return std::to_string(number) + " " + one + (number == 1 ? "" : "s");
}

class StandingMaker {
 public:
  StandingMaker(const build::Build& before, const log::Log& log, Date day, std::int64_t keep_days,
                const Elsewhere* others)
      : before_(before),
        history_(history_of(log, day)),
        day_(day),
        calendar_(calendar_of(before.money)),
        others_(others) {
    standing_.build = before;
    standing_.build->agreement.keep_days = keep_days;
    standing_.build->log_id = log.id;
    standing_.build->log_entries = log.entries.size();
  }

  Standing make() {
    if (all_over(before_, day_)) return {};
    tell_history();
    set_money();
    set_rests();
    set_begun();
    set_bench();
    set_goods();
    const int stage = now().money.stages_over;
    if (calendar_.paydays[static_cast<std::size_t>(stage)] <= day_)
      keep_orders_open(now(), bought_by_all(), day_, stage + 1);
    const std::vector<BenchLeft> left = benches_left();
    take_out_done(now(), history_, left, standing_.notes, standing_.closed);
    set_agreement();
    if (left.front().last == day_) give_up_today({left.begin() + 1, left.end()});
    return std::move(standing_);
  }

 private:
  build::Build& now() { return *standing_.build; }
  void say(const std::string& note) { standing_.notes.push_back(note); }
  BenchTime bench_of(int stage) const { return bench_time(before_, calendar_, stage); }

  std::vector<BenchLeft> benches_left() {
    std::vector<BenchLeft> left;
    for (const budgets::Stage& stage : stages_of(now(), calendar_of(now().money))) {
      left.push_back({stage.bench, stage.minutes > 0, stage.last_day()});
    }
    return left;
  }

  /// On a bench date itself what had to be done by then, and no longer can be, is late as it is on the day
  /// after.
  void give_up_today(const std::vector<BenchLeft>& later) {
    if (later.empty()) return;
    build::Build without = now();
    std::vector<std::string> notes;
    if (!let_go_of_late(without, later, notes)) return;
    if (!std::holds_alternative<Conflict>(plan(now())) || std::holds_alternative<Conflict>(plan(without)))
      return;
    now() = std::move(without);
    for (const std::string& note : notes) say(note);
  }

  /// On one purse what several builds order at one supplier on one day is one order.
  History bought_by_all() const {
    History all = history_;
    if (others_) all.bought.insert(all.bought.end(), others_->bought.begin(), others_->bought.end());
    return all;
  }

  void tell_history() {
    say("Planned from " + budgets::write_date(day_) + " on, with " +
        counted_text(history_.bought.size(), "purchase") + " and " +
        counted_text(history_.done.size(), "job") + " fitted up to then.");
    if (history_.later > 0) {
      say(history_.later == 1
              ? "1 entry of the log is dated later and is not counted."
              : std::to_string(history_.later) + " entries of the log are dated later and are not counted.");
    }
  }

  void set_money() {
    build::MoneyPlan& money = now().money;
    money.opening = others_ ? others_->cash : cash_on(before_, history_, day_);
    money.from = day_;
    money.stages_over = stages_over(before_, day_);
    std::erase_if(money.extras, [&](const build::Extra& extra) { return extra.date <= day_; });
    const std::string since =
        others_ ? others_->since
        : history_.count
            ? "counted on " + budgets::write_date(history_.count->date) + ", with what came and went since"
            : "not counted yet: worked out from the opening cash, dated money and what was bought";
    if (!others_) tell_changed_past();
    if (others_ && !others_->past.empty()) say(others_->past);
    say("Cash is " + money_text(before_, money.opening) + " (" + since + ").");
    if (money.opening < money.keep_back) {
      say("That is " + money_text(before_, money.keep_back - money.opening) +
          " less than is to be kept back: nothing is bought until it is whole again.");
    }
    if (calendar_.paydays[static_cast<std::size_t>(money.stages_over)] < day_) {
      say("The payday of stage " + std::to_string(money.stages_over + 1) + " was on " +
          budgets::write_date(calendar_.paydays[static_cast<std::size_t>(money.stages_over)]) +
          ": what is still to be ordered for it goes out on " + budgets::write_date(day_) + ".");
    }
  }

  /// The past is what the log says, whatever becomes of the build file.
  void tell_changed_past() {
    if (!history_.brought) return;
    const auto& [date, recorded] = *history_.brought;
    const Money now_written = brought_on(before_, {}, date);
    if (now_written == recorded) return;
    say("Up to " + budgets::write_date(date) + " the opening cash, income and dated money came to " +
        money_text(before_, recorded) +
        " when that was recorded, and that counts; by the build file as it is now they would come to " +
        money_text(before_, now_written) +
        ". What really came or went besides is recorded with `record in` and `record out`.");
  }

  /// Bench time that work since the first stage's payday took, of the other builds on the purse too.
  void set_bench() {
    const Date payday = calendar_.paydays[static_cast<std::size_t>(now().money.stages_over)];
    std::int64_t& gone = now().bench.minutes_gone;
    gone += minutes_gone(before_, history_, payday) + (others_ ? others_->minutes_gone : 0);
    if (gone > 0) {
      say("Of the bench time of stage " + std::to_string(now().money.stages_over + 1) + ", " +
          hours_text(gone) + " are used already.");
    }
  }

  void set_goods() {
    Stock stock = stock_on(before_, history_, day_);
    now().on_hand = std::move(stock.on_hand);
    for (std::string& note : stock.notes) say(note);
    for (const Bought& bought : history_.bought) {
      if (bought.what.kind == ShoppingKey::Kind::fee) pay_fee(bought.what.id);
      if (bought.what.kind == ShoppingKey::Kind::hire) pay_hire(bought.what);
      if (bought.what.kind == ShoppingKey::Kind::article && bought.arrives > day_) wait_for(bought);
    }
  }

  /// What is left of jobs that are begun.
  void set_begun() {
    for (const BegunWork& begun : history_.begun) {
      const int j = find_id(now().jobs, begun.job);
      if (j < 0 || is_done(begun.job)) continue;
      std::int64_t& minutes = now().jobs[static_cast<std::size_t>(j)].minutes;
      minutes = begun.rest.value_or(std::max<std::int64_t>(0, minutes - begun.minutes));
    }
  }

  /// What deposits leave to be paid goes out on its day; what is overdue on the next.
  void set_rests() {
    std::vector<build::Extra>& extras = now().money.extras;
    for (const build::Extra& rest : rests_of(history_, day_)) {
      extras.push_back(rest);
      say("Of " + rest.what.substr(std::string("the rest of ").size()) + ", " +
          money_text(before_, Money() - rest.amount) + " are still to be paid, on " +
          budgets::write_date(rest.date) + ".");
    }
    if (others_) extras.insert(extras.end(), others_->rests.begin(), others_->rests.end());
  }

  bool is_done(const build::Id& job) const {
    return std::any_of(history_.done.begin(), history_.done.end(),
                       [&](const Done& one) { return one.job == job; });
  }

  /// What the jobs that are not done need of an article at most: every one of them, removals once each.
  budgets::Quantity needed(const Demands& demands, int article) const {
    budgets::Quantity sum = 0;
    std::set<int> opened;
    for (std::size_t j = 0; j < before_.jobs.size(); ++j) {
      if (is_done(before_.jobs[j].id)) continue;
      sum += of(demands.jobs[j], article);
      for (const int r : opened_by(before_, before_.jobs[j])) opened.insert(r);
    }
    for (const int r : opened) sum += of(demands.removals[static_cast<std::size_t>(r)], article);
    return sum;
  }

  static budgets::Quantity of(const Demand& demand, int article) {
    budgets::Quantity sum = 0;
    for (const ArticleDemand& line : demand.articles) sum += line.article == article ? line.amount : 0;
    return sum;
  }

  /// Jobs that need what is on its way wait for it, so that nothing is bought twice; `free` is what can be
  /// had before. Those wanted most come first. A must that cannot wait does not.
  void keep_waiting(const Demands& demands, int article, budgets::Quantity free, Date arrives) {
    std::vector<std::size_t> order;
    for (std::size_t j = 0; j < now().jobs.size(); ++j) order.push_back(j);
    const auto rank = [&](std::size_t j) {
      return std::pair(!now().jobs[j].must, -now().jobs[j].want.value_or(0));
    };
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return rank(a) < rank(b); });
    for (const std::size_t j : order) {
      build::Job& job = now().jobs[j];
      const budgets::Quantity amount = of(demands.jobs[j], article);
      const bool hurried = job.must && job.by && *job.by < arrives;
      if (amount == 0 || is_done(job.id) || hurried) continue;
      if (amount <= free) {
        free -= amount;
      } else {
        job.not_before = std::max(job.not_before.value_or(arrives), arrives);
      }
    }
  }

  /// Whether more is needed of a part than there is and comes: that may be bought at any time.
  bool more_is_needed(int article, Date arrives) {
    budgets::Quantity there = 0, coming = 0;
    for (const build::OnHand& lot : now().on_hand) {
      if (lot.article != before_.articles[static_cast<std::size_t>(article)].id) continue;
      (lot.arrives && *lot.arrives > day_ ? coming : there) += lot.amount;
    }
    const Demands demands = demands_of(before_);
    const budgets::Quantity missing = needed(demands, article) - there - coming;
    if (missing <= 0) return false;
    keep_waiting(demands, article, there + missing, arrives);
    return true;
  }

  /// Nobody buys a part or a tool again while it is on its way; only what is needed beyond it.
  void wait_for(const Bought& bought) {
    const int a = find_id(now().articles, bought.what.id);
    if (a < 0) return;
    build::Article& article = now().articles[static_cast<std::size_t>(a)];
    if (article.kind == build::ArticleKind::consumable) return;
    if (article.kind == build::ArticleKind::part && more_is_needed(a, bought.arrives)) {
      say(article.name + " is on its way until " + budgets::write_date(bought.arrives) +
          "; what is needed beyond it may be bought before.");
      return;
    }
    for (build::Offer& offer : article.offers) {
      offer.from = std::max(offer.from.value_or(bought.arrives), bought.arrives);
    }
    say(article.name + " is on its way until " + budgets::write_date(bought.arrives) +
        "; no other is bought before.");
  }

  void pay_fee(const build::Id& id) {
    if (const int j = find_id(now().jobs, id); j >= 0) now().jobs[static_cast<std::size_t>(j)].cost = Money();
  }

  void pay_hire(const ShoppingKey& hire) {
    const int a = find_id(now().articles, hire.id);
    if (a < 0 || hire.stage > std::ssize(calendar_.paydays)) return;
    const BenchTime bench = bench_of(hire.stage - 1);
    now().articles[static_cast<std::size_t>(a)].borrow.push_back({bench.first, bench.last});
  }

  void set_agreement() {
    for (const build::Agreed& agreed : history_.agreed) {
      const bool done = std::any_of(history_.done.begin(), history_.done.end(),
                                    [&](const Done& one) { return one.job == agreed.job; });
      if (!done && find_id(before_.jobs, agreed.job) >= 0) now().agreement.jobs.push_back(agreed);
    }
    std::stable_sort(now().agreement.jobs.begin(), now().agreement.jobs.end(),
                     [](const auto& a, const auto& b) { return a.bench < b.bench; });
    if (now().agreement.jobs.empty()) return;
    say(counted_text(now().agreement.jobs.size(), "job") + " agreed on " +
        budgets::write_date(*history_.agreed_on) +
        (now().agreement.jobs.size() == 1 ? " stays where it is" : " stay where they are") +
        " unless moving one gains more than " + want_months_text(now().agreement.keep_days) +
        " want-months.");
  }

  const build::Build& before_;
  History history_;
  Date day_;
  Calendar calendar_;
  const Elsewhere* others_;  ///< null: the build has its money and bench for itself
  Standing standing_;
};

}  // namespace

Money brought_on(const build::Build& build, const std::optional<Brought>& recorded, Date day) {
  Money sum = recorded ? recorded->amount : build.money.opening;
  const auto counts = [&](Date date) { return date <= day && (!recorded || date > recorded->date); };
  for (const Date payday : calendar_of(build.money).paydays) {
    if (counts(payday)) sum += build.money.amount;
  }
  for (const build::Extra& extra : build.money.extras) {
    if (counts(extra.date)) sum += extra.amount;
  }
  return sum;
}

Money cash_on(const build::Build& build, const History& history, Date day) {
  const std::optional<Count>& count = history.count;
  const auto entered_after = [&](Date date, std::int64_t number) {
    return !count || date > count->date || (date == count->date && number > count->number);
  };
  Money cash = brought_on(build, history.brought, day);
  if (count) cash = cash - brought_on(build, history.brought_at_count, count->date) + count->cash;
  for (const Bought& bought : history.bought) {
    if (entered_after(bought.date, bought.number)) cash -= bought.paid;
  }
  for (const MovedMoney& moved : history.moved) {
    if (entered_after(moved.date, moved.number)) cash += moved.amount;
  }
  for (const Correction& one : history.corrections) {
    const bool counted_between =
        !entered_after(one.bought, one.purchase) && entered_after(one.date, one.number);
    if (counted_between) cash -= one.more;
  }
  return cash;
}

Standing stand_on(const build::Build& build, const log::Log& log, Date day, std::int64_t keep_days,
                  const Elsewhere* others) {
  return StandingMaker(build, log, day, keep_days, others).make();
}

}  // namespace fettlefund::planning
