#include "lib/progress/year.hpp"

#include <algorithm>
#include <map>

#include "lib/progress/as_planned.hpp"
#include "lib/progress/open_order.hpp"
#include "lib/progress/replan.hpp"
#include "lib/staging/demands.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/stages.hpp"
#include "lib/staging/stock.hpp"

namespace fettlefund::planning {
namespace {

using Kind = ShoppingKey::Kind;

constexpr const char* kind_names[] = {"Parts", "Consumables", "Tools",     "Delivery",
                                      "Hire",  "Fees",        "On no list"};
constexpr int on_no_list = 6;

class YearMaker {
 public:
  YearMaker(const build::Build& build, const log::Log& log, Date day)
      : build_(build),
        history_(history_of(log, day)),
        demands_(demands_of(build)),
        bench_dates_(bench_dates_of(build)),
        log_(log) {
    year_.build = &build;
    year_.day = day;
    for (const log::Entry& entry : log.entries) {
      if (entry.date <= day && (!year_.first || entry.date < *year_.first)) year_.first = entry.date;
    }
  }

  Year make() {
    begin_tables();
    for (const Bought& bought : history_.bought) add(bought);
    set_money();
    add_jobs();
    add_prices();
    add_who();
    return std::move(year_);
  }

 private:
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }

  void begin_tables() {
    for (const build::Supplier& supplier : build_.suppliers)
      year_.suppliers.push_back({supplier.name, {}, {}});
    year_.suppliers.push_back({"No supplier named", {}, {}});
    for (const char* name : kind_names) year_.kinds.push_back({name, {}, {}});
    for (const Date payday : calendar_of(build_.money).paydays) {
      const std::string number = std::to_string(year_.stages.size() + 1);
      year_.stages.push_back({"Stage " + number + ", payday " + budgets::write_date(payday), {}, {}});
    }
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) year_.jobs.push_back(job(j));
    year_.shared.name = "Shared or of no job";
  }

  JobAgainst job(std::size_t j) const {
    const build::Job& from = build_.jobs[j];
    return {from.id, from.name, {}, {}, planned_minutes(build_, from), {}, {}, {}, {}};
  }

  int kind_of(const ShoppingKey& what) const {
    if (what.kind == Kind::delivery) return 3;
    if (what.kind == Kind::hire) return 4;
    if (what.kind == Kind::fee) return 5;
    const int a = what.kind == Kind::article ? find_id(build_.articles, what.id) : -1;
    return a < 0 ? on_no_list : static_cast<int>(build_.articles[at(a)].kind);
  }

  static void count(Against& to, Money planned, Money paid) {
    to.planned += planned;
    to.paid += paid;
  }

  void add(const Bought& bought) {
    const Money planned = planned_for(build_, bought), paid = bought.paid + bought.settled;
    const int s = find_id(build_.suppliers, supplier_of(build_, bought));
    count(s < 0 ? year_.suppliers.back() : year_.suppliers[at(s)], planned, paid);
    count(year_.kinds[at(kind_of(bought.what))], planned, paid);
    count(year_.stages[at(stage_on(bench_dates_, bought.date))], planned, paid);
    count_for_job(bought.what, planned, paid);
    year_.planned += planned;
    year_.paid += paid;
  }

  /// The only job that needs it; -1: none, or several.
  int job_of(const ShoppingKey& what) const {
    if (what.kind == Kind::fee) return find_id(build_.jobs, what.id);
    const int a = find_id(build_.articles, what.id);
    if (a < 0 || (what.kind != Kind::article && what.kind != Kind::hire)) return -1;
    int found = -1, users = 0;
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      bool uses = needs(demands_.jobs[j], a);
      for (const int r : opened_by(build_, build_.jobs[j])) uses |= needs(demands_.removals[at(r)], a);
      if (!uses) continue;
      found = static_cast<int>(j);
      ++users;
    }
    return users == 1 ? found : -1;
  }

  static bool needs(const Demand& demand, int article) {
    return std::find(demand.tools.begin(), demand.tools.end(), article) != demand.tools.end() ||
           std::any_of(demand.articles.begin(), demand.articles.end(),
                       [&](const ArticleDemand& line) { return line.article == article; });
  }

  void count_for_job(const ShoppingKey& what, Money planned, Money paid) {
    const int j = job_of(what);
    if (j < 0) return count(year_.shared, planned, paid);
    year_.jobs[at(j)].planned += planned;
    year_.jobs[at(j)].paid += paid;
  }

  void set_money() {
    year_.brought = brought_on(build_, history_.brought, year_.day);
    for (const MovedMoney& moved : history_.moved) {
      if (moved.amount > Money()) year_.moved_in += moved.amount;
      if (moved.amount < Money()) year_.moved_out += Money() - moved.amount;
    }
    for (const Bought& bought : history_.bought)
      year_.moved_out -= bought.settled;  // paid for what was bought
    year_.cash = cash_on(build_, history_, year_.day);
    History uncounted = history_;
    uncounted.count.reset();
    year_.unexplained = year_.cash - cash_on(build_, uncounted, year_.day);
    if (history_.count) year_.counted = history_.count->date;
  }

  void add_jobs() {
    for (const Done& done : history_.done) {
      const int j = find_id(build_.jobs, done.job);
      if (j < 0) continue;
      year_.jobs[at(j)].fitted = done.date;
      year_.jobs[at(j)].taken = done.minutes;
    }
    for (const BegunWork& begun : history_.begun)
      if (JobAgainst* job = not_fitted(begun.job)) job->begun = job->begun.value_or(0) + begun.minutes;
    for (const GivenUp& given_up : history_.given_up)
      if (JobAgainst* job = not_fitted(given_up.job)) job->given_up = given_up.date;
  }

  JobAgainst* not_fitted(const build::Id& id) {
    const int j = find_id(build_.jobs, id);
    return j < 0 || year_.jobs[at(j)].fitted ? nullptr : &year_.jobs[at(j)];
  }

  void add_prices() {
    std::map<std::pair<int, build::Id>, PricePaid> last;
    for (const Bought& bought : history_.bought) {
      const int a = bought.what.kind == Kind::article ? find_id(build_.articles, bought.what.id) : -1;
      const build::Offer* offer = offer_behind(build_, bought);
      if (offer == nullptr || bought.ordered < 1) continue;
      const Money all = bought.paid + bought.rest_in_all;  // a deposit is no price
      const Money each = Money::of_minor((all.minor() + bought.ordered / 2) / bought.ordered);
      const int s = find_id(build_.suppliers, offer->supplier);
      last[{a, offer->supplier}] = {build_.articles[at(a)].name,
                                    build_.suppliers[at(s)].name,
                                    offer->price.likely,
                                    each,
                                    build_.articles[at(a)].id,
                                    offer,
                                    bought.date};
    }
    for (const auto& [where, price] : last) {
      if (price.paid != price.likely && price.paid > Money()) year_.prices.push_back(price);
    }
  }

  void add_who() {
    std::map<std::string, Recorder> named;
    std::map<std::int64_t, std::string> by_entry;
    const std::vector<bool> counts = log::effective(log_);
    for (std::size_t i = 0; i < log_.entries.size(); ++i) {
      const log::Entry& entry = log_.entries[i];
      if (!counts[i] || entry.date > year_.day) continue;
      by_entry[entry.number] = entry.by;
      if (std::holds_alternative<log::Counted>(entry.event)) ++year_.counts;
      ++named[entry.by].entries;
    }
    for (const Bought& bought : history_.bought)
      named[by_entry[bought.number]].paid += bought.paid + bought.settled;
    if (named.empty() || (named.size() == 1 && named.begin()->first.empty())) return;
    for (auto& [name, one] : named) {
      one.name = name;
      year_.who.push_back(one);
    }
    if (year_.who.front().name.empty())
      std::rotate(year_.who.begin(), year_.who.begin() + 1, year_.who.end());
  }

  const build::Build& build_;
  History history_;
  Demands demands_;
  std::vector<Date> bench_dates_;
  const log::Log& log_;
  Year year_;
};

}  // namespace

Year year_of(const build::Build& build, const log::Log& log, Date day) {
  return YearMaker(build, log, day).make();
}

}  // namespace fettlefund::planning
