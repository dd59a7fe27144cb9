#include <algorithm>
#include <limits>

#include "budgets/problem/tools.hpp"
#include "budgets/search/layers/expander.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::size_t most_choices = 12;
constexpr int stage_bits = 15;           ///< of a stage's number in the words of a state
constexpr std::int64_t work_steps = 50;  ///< for each comparison of two ways of buying
constexpr std::size_t least_ways = 4;    ///< that are followed from line to line

std::uint64_t pack(int high, int low) {
  return static_cast<std::uint64_t>(high) << 32 | static_cast<std::uint32_t>(low);
}

}  // namespace

void Expander::encode(const std::vector<HeldLot>& lots, std::vector<std::uint64_t>& words) const {
  for (const HeldLot& lot : lots) {
    words.push_back(pack(lot.article, lot.last_stage | lot.first_stage << stage_bits));
    words.push_back(static_cast<std::uint64_t>(lot.amount));
  }
}

void Expander::load_stores(const Row& row, const std::uint64_t* words) {
  stores_ = Stores();
  owned_.assign(words + done_words_, words + done_words_ + tool_words_);
  for (std::uint32_t i = done_words_ + tool_words_; i < row.key_words; i += 2) {
    const int article = static_cast<int>(words[i] >> 32);
    const int stages = static_cast<int>(static_cast<std::uint32_t>(words[i]));
    const auto amount = static_cast<std::int64_t>(words[i + 1]);
    stores_.lots.push_back({article, stages & ((1 << stage_bits) - 1), stages >> stage_bits, amount});
  }
  decode_orders(words + row.key_words, row.order_words, stores_.orders);
  for (std::size_t f = 0; f < fees_.size(); ++f) {
    const auto same = [&](const OpenOrder& o) { return o.supplier == relaxed_.fees[f].supplier; };
    fees_[f] = std::any_of(stores_.orders.begin(), stores_.orders.end(), same) ? 1 : 0;
  }
  subtotals_.assign(model_.stage_count(), 0);
  closed_ = closed_spending(row, words, model_.data().allowance_bp);
  first_open_ = static_cast<int>(row.first_open);
  for (std::uint32_t i = 0; i < row.open_paydays; ++i)
    subtotals_[first_open_ + i] = static_cast<std::int64_t>(words[row.key_words + row.order_words + i]);
}

/// Needs of the chosen units and the removals they open.
void Expander::collect_demand() {
  removals_.clear();
  tools_.clear();
  std::vector<int> jobs;
  for (int u : chosen_) {
    const Unit& unit = model_.units()[u];
    jobs.insert(jobs.end(), unit.jobs.begin(), unit.jobs.end());
    removals_.insert(removals_.end(), unit.removals.begin(), unit.removals.end());
    tools_.insert(tools_.end(), unit.tools.begin(), unit.tools.end());
  }
  sort_unique(jobs);
  sort_unique(removals_);
  for (int r : removals_) {
    const auto& tools = model_.data().removals[r].tools;
    tools_.insert(tools_.end(), tools.begin(), tools.end());
  }
  sort_unique(tools_);
  any_tools_.clear();
  if (!model_.any_tools().empty()) any_tools_ = tool_needs(model_.data(), jobs, removals_).any;
  demand_ = demand_of(model_.problem(), jobs, removals_, {});
}

/// A tool that is free now is only bought if it is not free later on, or if its delivery can be shared: that
/// can make a delivery free, or draw other goods to a payday that has the money for them.
bool Expander::worth_buying_early(int tool) const {
  const Tool& data = model_.data().tools[tool];
  for (int t = stage_ + 1; t < model_.stage_count(); ++t) {
    if (!data.free[t]) return true;
  }
  for (const Way& way : model_.buyer().tool_ways(tool, stage_)) {
    if (model_.data().suppliers[way.supplier].delivery > Money()) return true;
  }
  return false;
}

/// Tools that have to be bought, and those that could as well be hired or borrowed, or for which another of a
/// set would do. False if one cannot be had.
bool Expander::choose_tools(std::vector<int>& bought, std::vector<int>& choices) const {
  const auto on_offer = [&](int k) { return !model_.buyer().tool_ways(k, stage_).empty(); };
  const auto may_buy = [&](int k) {
    return on_offer(k) && (!is_free(model_.data().tools[k], stage_) || worth_buying_early(k));
  };
  for (int k : tools_) {
    if (has_bit(owned_.data(), k)) continue;
    const Tool& tool = model_.data().tools[k];
    if (is_free(tool, stage_) || tool.hire) {
      if (may_buy(k)) choices.push_back(k);
    } else if (on_offer(k)) {
      bought.push_back(k);
    } else {
      return false;
    }
  }
  for (const std::vector<int>& set : any_tools_) {
    for (int k : set) {
      if (!has_bit(owned_.data(), k) && may_buy(k)) choices.push_back(k);
    }
  }
  sort_unique(choices);
  return true;
}

/// What the stage hires where these are bought for it; -1: a set of tools has none.
std::int64_t Expander::hire_with(const std::vector<int>& bought) const {
  const ProblemData& data = model_.data();
  const auto had = [&](int k) {
    return has_bit(owned_.data(), k) || is_free(data.tools[k], stage_) ||
           std::binary_search(bought.begin(), bought.end(), k);
  };
  std::int64_t hire = 0;
  for (int k : tools_) {
    if (!had(k)) hire += data.tools[k].hire->minor();
  }
  if (any_tools_.empty()) return hire;
  const auto more = hired_of(data, any_tools_, had);
  if (!more) return -1;
  for (int k : *more) hire += data.tools[k].hire->minor();
  return hire;
}

/// One child for each choice of tools to buy.
void Expander::emit_goods(const Node& node) {
  collect_demand();
  std::vector<int> bought;
  std::vector<int> choices;
  if (!choose_tools(bought, choices)) return;
  if (choices.size() > most_choices) {
    skip(node);
    choices.resize(most_choices);
  }
  for (std::uint32_t pick = 0; pick < (1U << choices.size()); ++pick) {
    std::vector<int> all = bought;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      if (((pick >> i) & 1U) != 0) all.push_back(choices[i]);
    }
    std::sort(all.begin(), all.end());
    const std::int64_t hire = hire_with(all);
    if (hire >= 0) buy_with(node, all, hire);
  }
}

/// Counts the node's bound for children that are not made.
void Expander::skip(const Node& node) {
  skipped_ = std::max(skipped_, node.bound_base + bounder_.completion().at(stage_ + 1, node.relaxed));
}

/// One child for each way of buying that no other outdoes.
void Expander::buy_with(const Node& node, const std::vector<int>& bought, std::int64_t hire) {
  std::int64_t bare = hire;
  for (int u : chosen_) bare += model_.units()[u].cost;
  for (int r : removals_) bare += model_.data().removals[r].cost.minor();
  Stores stores = stores_;
  demand_.tools = bought;
  lines_.clear();
  missing_.clear();
  if (!chosen_.empty()) model_.buyer().list(stage_, demand_, stores, lines_, missing_);
  meter_->add(400 + 200 * static_cast<std::int64_t>(demand_.needs.size() + bought.size()));
  if (!missing_.empty()) return;
  std::vector<Tally> tallies{{std::move(stores.orders), subtotals_, closed_, {}}};
  tallies.front().paid[stage_] += bare;
  stores.orders.clear();
  forget(stores);
  start_words(bought);
  buy_lines(node, stores, tallies);
  for (Tally& tally : tallies) {
    stores.orders = std::move(tally.orders);
    add_child(node, bought, tally, stores);
  }
}

/// The most money that a child of the node may have paid and still come up to the floor; `stores` as they
/// will be, orders apart: what may come back on those is not counted.
std::int64_t Expander::most_money(const Node& node, const Stores& stores) {
  const Completion& table = bounder_.completion();
  std::int64_t low = 0, high = static_cast<std::int64_t>(table.table(stage_ + 1).size());
  while (low < high) {
    const std::int64_t middle = (low + high) / 2;
    const std::int64_t spent = table.spent_from(middle);
    if (node.bound_base + table.at(stage_ + 1, spent) >= goal_->floor) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  const std::int64_t relaxed = table.spent_from(low) + relaxed_.excess;
  const std::int64_t bare = (relaxed + 1) * relaxed_.unit_cost + saving(stores);
  // What is open may round up on each payday.
  const std::int64_t rounding = model_.data().allowance_bp == 0 ? 0 : stage_ + 1 - first_open_;
  return std::min(goal_->most_money, with_allowance(bare, model_.data().allowance_bp) + rounding);
}

/// What the lines of the stage are sure to cost, on the last payday that will do for each.
std::vector<std::int64_t> Expander::sure_costs() const {
  std::vector<std::int64_t> sure(model_.stage_count(), 0);
  for (const Line& line : lines_) add_sure_cost(line, 1, sure);
  return sure;
}

void Expander::add_sure_cost(const Line& line, int times, std::vector<std::int64_t>& sure) const {
  Money least = line.ways->front().price;
  int last = 0;
  for (const Way& way : *line.ways) {
    least = std::min(least, way.price);
    last = std::max(last, way.stage);
  }
  const std::int64_t cost = (least * line.what.packs).minor();
  for (int p = last; p < model_.stage_count(); ++p) sure[p] += times * cost;
}

/// Buys all lines, in every way that pays as long as these are few; what is left out becomes one way.
void Expander::buy_lines(const Node& node, const Stores& stores, std::vector<Tally>& tallies) {
  const std::int64_t before = ways_.work();
  std::vector<std::int64_t> sure = sure_costs();
  const std::size_t width = std::max(goal_->ways, least_ways);
  BasketWays::Limits limits{&model_.caps(), most_money(node, stores), width, &sure, first_open_, true};
  const Line* end = lines_.data() + lines_.size();
  for (const Line& line : lines_) {
    add_sure_cost(line, -1, sure);
    ways_.extend(stage_, &line, end, limits, tallies);
    if (tallies.empty()) break;
  }
  ways_.forget(stage_ + 1, tallies);
  limits.width = goal_->ways;
  if (tallies.size() > 1) ways_.thin(limits, tallies);
  meter_->add(work_steps * (ways_.work() - before));
}

/// Units done and tools owned.
void Expander::start_words(const std::vector<int>& bought) {
  child_words_.assign(done_.begin(), done_.end());
  child_words_.insert(child_words_.end(), owned_.begin(), owned_.begin() + first_free_ / 64);
  child_words_.insert(child_words_.end(), here_.begin(), here_.end());
  for (int k : bought) set_bit(child_words_.data() + done_words_, k);
}

void Expander::add_child(const Node& node, const std::vector<int>& bought, const Tally& tally,
                         const Stores& stores) {
  Row row;
  start_words(bought);
  if (!settle(row, tally, stores)) return;
  row.value = node.value;
  row.minutes = parent_->minutes + node.minutes;
  row.relaxed = node.relaxed;
  row.relaxed = std::max(row.relaxed, sure_spending(row, stores));
  row.bound = node.bound_base + bounder_.completion().at(stage_ + 1, row.relaxed);
  if (row.bound >= goal_->floor) emit_row(row, child_words_);
}

/// What the child has paid less all that later stages may save by it, on the axis of the relaxed problem: as
/// good as having spent so much there. Of paydays that are open before the allowance, as what is added there
/// may use up what was rounded.
std::int64_t Expander::sure_spending(const Row& row, const Stores& stores) {
  const std::int64_t bp = model_.data().allowance_bp;
  const std::int64_t closed = closed_spending(row, child_words_.data(), bp);
  std::int64_t open = 0;
  for (auto paid = child_words_.end() - row.open_paydays; paid != child_words_.end(); ++paid)
    open += static_cast<std::int64_t>(*paid);
  const std::int64_t paid = open + (closed < 0 ? closed : before_allowance(closed, bp));
  return (paid - saving(stores)) / relaxed_.unit_cost - relaxed_.excess;  // the axis is cut
}

/// The most that later stages can save by what the child has: its stores, and tools as in `child_words_`.
std::int64_t Expander::saving(const Stores& stores) {
  return saving_with(stores, child_words_.data() + done_words_);
}

std::int64_t Expander::saving_with(const Stores& stores, const std::uint64_t* owned) {
  const int next = stage_ + 1;
  for (int u = 0; u < relaxed_.units; ++u) {
    left_[u] = !has_bit(done_.data(), u) && model_.units()[u].last >= next;
  }
  return relaxed_.goods->saving(stores, owned, done_.data(), left_, next);
}

/// What could still come back on orders of a payday, at most.
std::int64_t Expander::refund(const Stores& stores, int payday) const {
  std::int64_t sum = 0;
  for (const OpenOrder& order : stores.orders) {
    const Supplier& supplier = model_.data().suppliers[order.supplier];
    const bool paid = supplier.free_from && order.goods < *supplier.free_from;
    if (order.stage == payday && paid) sum += supplier.delivery.minor();
  }
  return sum;
}

/// Adds up every open payday. False if a cap is broken for good. Completes `child_words_` with the stores and
/// the subtotals that stay open.
bool Expander::settle(Row& row, const Tally& tally, const Stores& stores) {
  const std::int64_t bp = model_.data().allowance_bp;
  std::int64_t paid = tally.closed;
  std::int64_t least = tally.closed;
  affordable_ =
      std::none_of(stores.orders.begin(), stores.orders.end(), [](const OpenOrder& o) { return o.waits; });
  for (int p = first_open_; p <= stage_; ++p) {
    paid += with_allowance(tally.paid[p], bp);
    least += with_allowance(tally.paid[p] - refund(stores, p), bp);
    const std::int64_t cap = std::min(model_.caps()[p], goal_->most_money);
    affordable_ &= paid <= cap;
    if (least > cap) return false;
  }
  row.spent = paid;
  encode(stores.lots, child_words_);
  row.key_words = static_cast<std::uint32_t>(child_words_.size());
  encode_orders(stores.orders, child_words_);
  row.order_words = static_cast<std::uint32_t>(child_words_.size()) - row.key_words;
  const int next = stage_ + 1;
  const int first = next < model_.stage_count()
                        ? std::max(first_open_, std::min(next, model_.buyer().first_payday(next)))
                        : next;
  for (int p = first; p < next; ++p) child_words_.push_back(static_cast<std::uint64_t>(tally.paid[p]));
  row.first_open = static_cast<std::uint32_t>(first);
  row.open_paydays = static_cast<std::uint32_t>(next - first);
  return true;
}

/// Besides what shopping cannot depend on: lots that no unit left to do and no removal it opens can use.
void Expander::forget(Stores& stores) const {
  const int next = stage_ + 1;
  if (next >= model_.stage_count()) {
    stores = Stores();
    return;
  }
  model_.buyer().forget(next, stores);
  if (stores.lots.empty()) return;
  std::vector<Quantity> wanted(model_.data().articles.size(), 0);
  std::vector<char> opened(model_.data().removals.size(), 0);
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (has_bit(done_.data(), u) || model_.units()[u].last < next) continue;
    for (const Need& need : model_.units()[u].needs) wanted[need.article] += need.amount;
    for (int r : model_.units()[u].removals) opened[r] = 1;
  }
  for (std::size_t r = 0; r < opened.size(); ++r) {
    if (!opened[r]) continue;
    for (const Need& need : model_.data().removals[r].one_use) {
      wanted[need.article] += need.amount * (model_.stage_count() - next);
    }
  }
  std::size_t kept = 0;
  for (HeldLot lot : stores.lots) {
    const bool closed = lot.last_stage == model_.stage_count();  // how it is opened depends on all of it
    if (!closed) lot.amount = std::min(lot.amount, wanted[lot.article]);
    if (lot.amount > 0 && wanted[lot.article] > 0) stores.lots[kept++] = lot;
  }
  stores.lots.resize(kept);
}

}  // namespace fettlefund::budgets::search
