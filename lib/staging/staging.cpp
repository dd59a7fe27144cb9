#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

#include "lib/outcome/notes.hpp"
#include "lib/outcome/plan.hpp"
#include "lib/staging/choices.hpp"
#include "lib/staging/ids.hpp"
#include "lib/staging/want.hpp"

namespace fettlefund::planning {
namespace {

/// Build index -> problem index of the entries of a table.
std::map<int, int> turned_round(const std::vector<int>& table) {
  std::map<int, int> back;
  for (std::size_t i = 0; i < table.size(); ++i) back.emplace(table[i], static_cast<int>(i));
  return back;
}

/// By supplier, price, lead time, dates: two that differ in nothing of it are the same to every plan.
bool comes_first(const build::Offer& a, const build::Offer& b) {
  const auto lead = [](const build::Offer& offer) {
    const auto spread = offer.lead_spread.value_or(build::LeadSpread{});
    return std::tuple(offer.lead_days, spread.low, spread.high, offer.from, offer.until);
  };
  const auto price = [](const build::Offer& offer) {
    return std::tuple(offer.price.likely, offer.price.low, offer.price.high);
  };
  if (a.supplier != b.supplier) return a.supplier < b.supplier;
  return price(a) != price(b) ? price(a) < price(b) : lead(a) < lead(b);
}

/// Places in the list, in that order.
std::vector<int> ordered(const std::vector<build::Offer>& offers) {
  std::vector<int> order(offers.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return comes_first(offers[static_cast<std::size_t>(a)], offers[static_cast<std::size_t>(b)]);
  });
  return order;
}

bool comes_first(const budgets::Lot& a, const budgets::Lot& b) {
  return std::tie(a.use_by, a.from, a.amount) < std::tie(b.use_by, b.from, b.amount);
}

/// The articles, by id.
std::vector<int> listed_by_id(const std::vector<build::Article>& articles, const std::set<int>& used) {
  std::vector<int> found;
  for (const int a : by_id(articles)) {
    if (used.count(a) > 0) found.push_back(a);
  }
  return found;
}

class Stager {
 public:
  explicit Stager(const build::Build& build)
      : build_(build), suppliers_(build.suppliers), removals_(build.removals), jobs_(build.jobs) {}

  Staging make() {
    staging_.calendar = calendar_of(build_.money);
    staging_.has_sessions = !build_.bench.sessions.empty();
    staging_.demands = demands_of(build_);
    staging_.machine = machine_of(build_);
    fill_money();
    choose_tables();
    for (const build::Supplier& supplier : build_.suppliers) {
      data().suppliers.push_back({supplier.delivery, supplier.free_from});
    }
    for (const int a : staging_.article_of) add_article(a);
    for (const int a : staging_.tool_of) add_tool(a);
    for (std::size_t r = 0; r < build_.removals.size(); ++r) add_removal(r);
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) add_job(j);
    rank(data().suppliers, build_.suppliers);
    rank(data().removals, build_.removals);
    rank(data().jobs, build_.jobs);
    data().carriers = staging_.machine.carriers;
    data().clashes = staging_.machine.clashes;
    data().one_of = one_of_groups();
    data().together = together_of(build_);
    data().renewals = renewals_of(build_, data().stages, staging_.calendar.end);
    hold_what_is_agreed();
    staging_.notes = notes_of(build_, staging_);
    return std::move(staging_);
  }

 private:
  budgets::ProblemData& data() { return staging_.problem; }

  template <class To, class From>
  static void rank(std::vector<To>& entries, const std::vector<From>& from) {
    const std::vector<int> ranks = ranks_by_id(from);
    for (std::size_t i = 0; i < entries.size(); ++i) entries[i].rank = ranks[i];
  }

  void fill_money() {
    data().opening = build_.money.opening;
    data().allowance_bp = build_.money.allowance_bp;
    data().bother = build_.bench.bother;  // want-days per hour = sixtieths of a want-day per minute
    data().stages = stages_of(build_, staging_.calendar);
  }

  void choose_tables() {
    std::set<int> articles, tools;
    for (const auto* list : {&staging_.demands.jobs, &staging_.demands.removals}) {
      for (const Demand& demand : *list) {
        for (const ArticleDemand& line : demand.articles) articles.insert(line.article);
        tools.insert(demand.tools.begin(), demand.tools.end());
        for (const auto& any : demand.any_tools) tools.insert(any.begin(), any.end());
      }
    }
    staging_.article_of = listed_by_id(build_.articles, articles);
    staging_.tool_of = listed_by_id(build_.articles, tools);
    article_at_ = turned_round(staging_.article_of);
    tool_at_ = turned_round(staging_.tool_of);
  }

  std::vector<budgets::Offer> offers_of(const build::Article& article, const std::vector<int>& order) const {
    std::vector<budgets::Offer> offers;
    for (const int place : order) {
      const build::Offer& offer = article.offers[static_cast<std::size_t>(place)];
      offers.push_back(
          {suppliers_.find(offer.supplier), offer.price.likely, offer.lead_days, offer.from, offer.until});
    }
    return offers;
  }

  void add_article(int index) {
    const build::Article& from = build_.articles[static_cast<std::size_t>(index)];
    budgets::Article& to = data().articles.emplace_back();
    to.pack = from.pack;
    to.keeping_days = from.keeps_days;
    staging_.article_offers.push_back(ordered(from.offers));
    to.offers = offers_of(from, staging_.article_offers.back());
    for (const build::OnHand& lot : build_.on_hand) {
      if (lot.article != from.id || lot.amount <= 0) continue;
      std::optional<Date> use_by;
      if (lot.opened && from.keeps_days) use_by = *lot.opened + *from.keeps_days;
      to.on_hand.push_back({lot.amount, use_by, lot.arrives});
    }
    std::stable_sort(to.on_hand.begin(), to.on_hand.end(),
                     [](const budgets::Lot& a, const budgets::Lot& b) { return comes_first(a, b); });
  }

  /// Has one of the tools that are owned arrived?
  bool there(const build::Article& tool, Date bench) const {
    return std::any_of(build_.on_hand.begin(), build_.on_hand.end(), [&](const build::OnHand& lot) {
      return lot.article == tool.id && (!lot.arrives || *lot.arrives <= bench);
    });
  }

  /// For all of the stage's bench time.
  bool borrowed(const build::Article& tool, const budgets::Stage& stage) const {
    return std::any_of(tool.borrow.begin(), tool.borrow.end(), [&](const build::DateRange& range) {
      return range.from <= stage.bench && stage.last_day() <= range.until;
    });
  }

  void add_tool(int index) {
    const build::Article& from = build_.articles[static_cast<std::size_t>(index)];
    budgets::Tool& to = data().tools.emplace_back();
    const bool own = owned(build_, index);
    for (const budgets::Stage& stage : data().stages) {
      to.free.push_back((own && there(from, stage.bench)) || borrowed(from, stage) ? 1 : 0);
    }
    // What is there all the time is not bought again.
    const bool always = std::all_of(to.free.begin(), to.free.end(), [](char free) { return free != 0; });
    staging_.tool_offers.push_back(always ? std::vector<int>() : ordered(from.offers));
    to.offers = offers_of(from, staging_.tool_offers.back());
    to.hire = from.hire;
  }

  std::vector<budgets::Need> needs_of(const Demand& demand) const {
    std::vector<budgets::Need> needs;
    for (const ArticleDemand& line : demand.articles) {
      needs.push_back({article_at_.at(line.article), line.amount});
    }
    return needs;
  }

  std::vector<int> tools_of(const std::vector<int>& articles) const {
    std::vector<int> tools;
    for (const int tool : articles) tools.push_back(tool_at_.at(tool));
    std::sort(tools.begin(), tools.end());
    return tools;
  }

  std::vector<std::vector<int>> any_tools_of(const Demand& demand) const {
    std::vector<std::vector<int>> sets;
    for (const auto& any : demand.any_tools) sets.push_back(tools_of(any));
    return sets;
  }

  void add_removal(std::size_t r) {
    const build::Removal& from = build_.removals[r];
    budgets::Removal& to = data().removals.emplace_back();
    to.minutes = from.minutes_off + from.minutes_on;
    to.needs = removals_.find_all(from.needs);
    to.one_use = needs_of(staging_.demands.removals[r]);
    to.tools = tools_of(staging_.demands.removals[r].tools);
    to.any_tools = any_tools_of(staging_.demands.removals[r]);
  }

  void add_job(std::size_t j) {
    const build::Job& from = build_.jobs[j];
    budgets::Job& to = data().jobs.emplace_back();
    to.worth = worth_of(build_, static_cast<int>(j), data().stages, staging_.calendar.end);
    to.cost = from.cost;
    to.minutes = from.minutes;
    to.removals = removals_.find_all(from.removals);
    to.after = jobs_.find_all(from.after);
    to.needs = needs_of(staging_.demands.jobs[j]);
    to.tools = tools_of(staging_.demands.jobs[j].tools);
    to.any_tools = any_tools_of(staging_.demands.jobs[j]);
    const Window window = window_of(from, data().stages);
    to.earliest = window.empty() ? static_cast<int>(data().stages.size()) : window.earliest;
    to.latest = window.empty() ? -1 : window.latest;
    to.must = from.must;
    to.by = from.by;
  }

  /// Leaving an agreed job where it is counts as if it were worth more there.
  void hold_what_is_agreed() {
    for (const build::Agreed& agreed : build_.agreement.jobs) {
      const int job = jobs_.find(agreed.job), stage = stage_on(staging_, agreed.bench);
      if (job < 0 || stage < 0) continue;
      data().jobs[static_cast<std::size_t>(job)].worth[static_cast<std::size_t>(stage)] +=
          keep_worth(build_.agreement);
    }
  }

  std::vector<std::vector<int>> one_of_groups() const {
    std::vector<std::vector<int>> groups;
    std::map<std::string, std::size_t> group_of;
    for (std::size_t j = 0; j < build_.jobs.size(); ++j) {
      if (build_.jobs[j].one_of.empty()) continue;
      const auto [place, fresh] = group_of.emplace(build_.jobs[j].one_of, groups.size());
      if (fresh) groups.emplace_back();
      groups[place->second].push_back(static_cast<int>(j));
    }
    return groups;
  }

  const build::Build& build_;
  IdTable suppliers_, removals_, jobs_;
  std::map<int, int> article_at_, tool_at_;
  Staging staging_;
};

}  // namespace

int stage_on(const Staging& staging, Date bench) {
  const auto& stages = staging.problem.stages;
  const auto found = std::find_if(stages.begin(), stages.end(), [&](const auto& stage) {
    if (!staging.has_sessions) return stage.bench == bench;
    const bool first = &stage == &stages.front();
    return bench <= stage.last_day() && bench >= (first ? staging.calendar.first_payday : stage.payday);
  });
  return found == stages.end() ? -1 : static_cast<int>(found - stages.begin());
}

std::vector<int> in_file_order(const std::vector<int>& table) {
  std::vector<int> places(table.size());
  std::iota(places.begin(), places.end(), 0);
  std::sort(places.begin(), places.end(), [&](int a, int b) {
    return table[static_cast<std::size_t>(a)] < table[static_cast<std::size_t>(b)];
  });
  return places;
}

Staging to_staging(const build::Build& build) { return Stager(build).make(); }

}  // namespace fettlefund::planning
