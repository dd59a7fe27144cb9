#include <algorithm>
#include <set>

#include "budgets/verify/parts.hpp"

namespace fettlefund::budgets::verifier {
namespace {

/// Removal `r` and everything that must come off before it.
void open(const ProblemData& data, int r, std::set<int>& opened) {
  std::vector<int> waiting{r};
  while (!waiting.empty()) {
    const int next = waiting.back();
    waiting.pop_back();
    if (!opened.insert(next).second) continue;
    const std::vector<int>& needs = data.removals[next].needs;
    waiting.insert(waiting.end(), needs.begin(), needs.end());
  }
}

/// Some amount of an article that is there from a day on and keeps up to and including another, or for ever.
struct Pile {
  Quantity amount = 0;
  std::optional<std::int64_t> last_day;
  std::optional<std::int64_t> first_day;
  bool closed = false;  ///< packs never opened: what is opened of them keeps from then on
};

bool spoils_sooner(const Pile& a, const Pile& b) {
  return a.last_day && (!b.last_day || *a.last_day < *b.last_day);
}

std::vector<Pile> piles_on_hand(const Article& article) {
  std::vector<Pile> piles;
  for (const Lot& lot : article.on_hand) {
    Pile pile{lot.amount, std::nullopt, std::nullopt};
    if (lot.use_by) pile.last_day = lot.use_by->days;
    if (lot.from) pile.first_day = lot.from->days;
    pile.closed = article.keeping_days && !lot.use_by;
    piles.push_back(pile);
  }
  return piles;
}

bool is_there(const Pile& pile, Date bench) { return !pile.first_day || *pile.first_day <= bench.days; }

/// Heaps all closed packs that are there on `bench` into one pile.
void heap_closed(std::vector<Pile>& piles, Date bench) {
  Quantity sum = 0;
  std::erase_if(piles, [&](const Pile& pile) {
    const bool joins = pile.closed && is_there(pile, bench);
    if (joins) sum += pile.amount;
    return joins;
  });
  if (sum > 0) piles.push_back({sum, std::nullopt, std::nullopt, true});
}

/// Takes `amount` from the piles that are there on the bench date and good to the last day, those that spoil
/// soonest first; returns what is still short.
Quantity take(const Article& article, std::vector<Pile>& piles, Quantity amount, const Stage& stage) {
  const Date bench = stage.bench, last = stage.last ? *stage.last : bench;
  heap_closed(piles, bench);
  std::stable_sort(piles.begin(), piles.end(), spoils_sooner);
  Quantity opened = 0;
  for (Pile& pile : piles) {
    if (pile.last_day && *pile.last_day < last.days) continue;
    if (!is_there(pile, bench)) continue;
    const Quantity taken = std::min(pile.amount, amount);
    pile.amount -= taken;
    amount -= taken;
    if (!pile.closed || taken == 0) continue;
    opened = pile.amount % article.pack;
    pile.amount -= opened;
  }
  if (opened > 0) piles.push_back({opened, std::int64_t{bench.days} + *article.keeping_days, std::nullopt});
  return amount;
}

/// The amount of `article` that the stage uses up.
Quantity demand(const ProblemData& data, const StageFacts& stage, int article) {
  Quantity sum = 0;
  const auto add = [&](const std::vector<Need>& needs) {
    for (const Need& need : needs)
      if (need.article == article) sum += need.amount;
  };
  for (const int j : stage.jobs) add(data.jobs[j].needs);
  for (const int r : stage.opened) add(data.removals[r].one_use);
  return sum;
}

/// Walks the stages with one article and notes the packs to be bought for each.
void want_article(const ProblemData& data, int index, std::vector<StageFacts>& stages) {
  const Article& article = data.articles[index];
  std::vector<Pile> piles = piles_on_hand(article);
  for (std::size_t s = 0; s < stages.size(); ++s) {
    const Date bench = data.stages[s].bench;
    const Quantity lacking = take(article, piles, demand(data, stages[s], index), data.stages[s]);
    if (lacking == 0) continue;
    const Quantity over = lacking % article.pack;
    stages[s].wanted.push_back({false, index, lacking / article.pack + (over != 0 ? 1 : 0)});
    if (over == 0) continue;
    Pile rest{article.pack - over, std::nullopt, std::nullopt};
    if (article.keeping_days) rest.last_day = std::int64_t{bench.days} + *article.keeping_days;
    piles.push_back(rest);
  }
}

/// Of sets of tools of which any will do.
using Sets = std::set<std::set<int>>;

std::int64_t hire_of(const ProblemData& data, const std::set<int>& tools) {
  std::int64_t sum = 0;
  for (const int t : tools) sum += data.tools[t].hire->minor();
  return sum;
}

/// Is `a` cheaper to hire than `b`, or as cheap and fewer, or as many and lower?
bool better_hire(const ProblemData& data, const std::set<int>& a, const std::set<int>& b) {
  const std::int64_t cost_a = hire_of(data, a), cost_b = hire_of(data, b);
  if (cost_a != cost_b) return cost_a < cost_b;
  if (a.size() != b.size()) return a.size() < b.size();
  return std::vector<int>(a.begin(), a.end()) < std::vector<int>(b.begin(), b.end());
}

/// Tries every tool for each set from `next` on.
void try_hires(const ProblemData& data, const std::vector<std::set<int>>& sets, std::size_t next,
               const std::set<int>& so_far, std::optional<std::set<int>>& best) {
  if (next == sets.size()) {
    if (!best || better_hire(data, so_far, *best)) best = so_far;
    return;
  }
  for (const int t : sets[next]) {
    std::set<int> more = so_far;
    more.insert(t);
    try_hires(data, sets, next + 1, more, best);
  }
}

/// What is hired for the sets that have nothing at hand; nothing where one has nothing to hire either.
std::optional<std::set<int>> hired_for(const ProblemData& data, const std::vector<std::set<int>>& sets) {
  std::int64_t ways = 1;
  std::optional<std::set<int>> best = std::set<int>();
  for (const std::set<int>& set : sets) {
    if (set.empty()) return std::nullopt;
    ways = std::min<std::int64_t>(ways * static_cast<std::int64_t>(set.size()), 1'000'000);
    const auto cheaper = [&](int a, int b) { return better_hire(data, {a}, {b}); };
    best->insert(*std::min_element(set.begin(), set.end(), cheaper));
  }
  if (ways > 4096) return best;  // each set by itself
  best.reset();
  try_hires(data, sets, 0, {}, best);
  return best;
}

Sets sets_of(const ProblemData& data, const StageFacts& stage) {
  Sets sets;
  const auto add = [&](const std::vector<std::vector<int>>& any) {
    for (const std::vector<int>& set : any) sets.emplace(set.begin(), set.end());
  };
  for (const int j : stage.jobs) add(data.jobs[j].any_tools);
  for (const int r : stage.opened) add(data.removals[r].any_tools);
  return sets;
}

void use_tools(const ProblemData& data, const Schedule& schedule, int s, StageFacts& stage) {
  std::set<int> used;
  for (const int j : stage.jobs) used.insert(data.jobs[j].tools.begin(), data.jobs[j].tools.end());
  for (const int r : stage.opened) used.insert(data.removals[r].tools.begin(), data.removals[r].tools.end());
  const auto at_hand = [&](int t) {
    const bool free = !data.tools[t].free.empty() && data.tools[t].free[s] != 0;
    return free || (schedule.tool_bought[t] >= 0 && schedule.tool_bought[t] <= s);
  };
  std::set<int> hired, may_use = used;
  for (const int t : used)
    if (!at_hand(t)) hired.insert(t);
  std::vector<std::set<int>> open;
  for (std::set<int> set : sets_of(data, stage)) {
    if (std::any_of(set.begin(), set.end(), [&](int t) { return used.count(t) > 0; })) continue;
    may_use.insert(set.begin(), set.end());
    if (std::any_of(set.begin(), set.end(), at_hand)) continue;
    std::erase_if(set, [&](int t) { return !data.tools[t].hire; });
    open.push_back(set);
  }
  const auto more = hired_for(data, open);
  stage.lacks_any = !more;
  if (more) hired.insert(more->begin(), more->end());
  stage.used.assign(may_use.begin(), may_use.end());
  stage.hired.assign(hired.begin(), hired.end());
}

}  // namespace

std::vector<StageFacts> facts_of(const ProblemData& data, const Schedule& schedule) {
  std::vector<StageFacts> stages(data.stages.size());
  for (int j = 0; j < static_cast<int>(data.jobs.size()); ++j)
    if (schedule.stage_of[j] >= 0) stages[schedule.stage_of[j]].jobs.push_back(j);
  for (int s = 0; s < static_cast<int>(stages.size()); ++s) {
    std::set<int> opened;
    for (const int j : stages[s].jobs)
      for (const int r : data.jobs[j].removals) open(data, r, opened);
    stages[s].opened.assign(opened.begin(), opened.end());
    use_tools(data, schedule, s, stages[s]);
  }
  for (int a = 0; a < static_cast<int>(data.articles.size()); ++a) want_article(data, a, stages);
  for (int t = 0; t < static_cast<int>(data.tools.size()); ++t)
    if (schedule.tool_bought[t] >= 0) stages[schedule.tool_bought[t]].wanted.push_back({true, t, 1});
  return stages;
}

const Offer& offer_of(const ProblemData& data, bool is_tool, int index, int offer) {
  return is_tool ? data.tools[index].offers[offer] : data.articles[index].offers[offer];
}

int latest_payday(const ProblemData& data, const Offer& offer, int stage) {
  int latest = -1;
  for (int s = 0; s <= stage; ++s) {
    const Date payday = data.stages[s].payday;
    const bool open = (!offer.from || payday >= *offer.from) && (!offer.until || payday <= *offer.until);
    const bool in_time = std::int64_t{payday.days} + offer.lead_days <= data.stages[stage].bench.days;
    if (open && in_time) latest = s;
  }
  return latest;
}

Money delivery_for(const Supplier& supplier, Money goods) {
  return supplier.free_from && goods >= *supplier.free_from ? Money() : supplier.delivery;
}

}  // namespace fettlefund::budgets::verifier
