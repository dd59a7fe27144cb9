#include <algorithm>

#include "budgets/search/layers/expander.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t steps_of_way = 2;  ///< for each way to buy that is looked at
constexpr std::uint64_t most_closed = std::uint64_t{1} << 62;

}  // namespace

void Expander::emit_exact(const Node& node) {
  const std::int64_t bare = (node.relaxed - parent_->relaxed) * relaxed_.unit_cost;
  Row row;
  row.spent = parent_->spent + with_allowance(bare, model_.data().allowance_bp);
  if (row.spent > std::min(model_.caps()[stage_], goal_->most_money)) return;
  row.value = node.value;
  row.minutes = parent_->minutes + node.minutes;
  row.relaxed = node.relaxed;
  row.bound = node.bound_base + bounder_.completion().at(stage_ + 1, node.relaxed);
  child_words_.assign(done_.begin(), done_.end());
  row.key_words = static_cast<std::uint32_t>(child_words_.size());
  emit_row(row, child_words_);
}

void Expander::load_sure(const Row& row, const std::uint64_t* words) {
  owned_.assign(words + done_words_, words + done_words_ + tool_words_);
  fees_.assign(fees_.size(), 1);  // `orders_` has them
  reach_ = orders_.no_reach();
  stores_ = Stores();
  for (const HeldLot& lot : opening_.lots) {
    if (stage_ == 0 || lot.first_stage > stage_) stores_.lots.push_back(lot);
  }
  if (row.order_words > 0) {
    const std::uint64_t* from = words + row.key_words;
    for (std::int64_t& r : reach_) r = static_cast<std::int64_t>(*from++);
    for (const int article : kept_) {
      decode_rest(article, from);
      from += rest_words();
    }
  }
  std::sort(stores_.lots.begin(), stores_.lots.end());
}

/// What is in store of an article, of which more is never worse: how much can be used up to each stage or
/// longer. Closed packs have to be as many to compare: their amount and its opposite.
void Expander::encode_rest(int article, const std::vector<HeldLot>& lots,
                           std::vector<std::uint64_t>& words) const {
  const int stages = model_.stage_count();
  std::vector<std::uint64_t> amounts(rest_words(), 0);
  for (const HeldLot& lot : lots) {
    if (lot.article != article || lot.first_stage > 0) continue;
    const auto amount = static_cast<std::uint64_t>(lot.amount);
    if (lot.last_stage == stages) {
      amounts[stages] += amount;
    } else {
      for (int t = stage_ + 1; t <= lot.last_stage; ++t) amounts[t] += amount;
    }
  }
  amounts[stages + 1] = most_closed - amounts[stages];
  words.insert(words.end(), amounts.begin(), amounts.end());
}

void Expander::decode_rest(int article, const std::uint64_t* words) {
  const int stages = model_.stage_count();
  std::uint64_t longer = 0;
  for (int t = stages - 1; t >= stage_; --t) {
    if (words[t] > longer) stores_.lots.push_back({article, t, 0, static_cast<Quantity>(words[t] - longer)});
    longer = words[t];
  }
  if (words[stages] > 0) stores_.lots.push_back({article, stages, 0, static_cast<Quantity>(words[stages])});
}

/// Tools of the relaxed problem that no unit done before needs.
void Expander::find_onces() {
  std::vector<int> users(relaxed_.tools(), 0);
  for (const int u : chosen_) {
    for (const int k : relaxed_.tools_of[u]) ++users[k];
  }
  onces_.clear();
  for (int k = 0; k < relaxed_.goods->tool_onces(); ++k) {
    if (users[k] > 0 && had_[k] == users[k]) onces_.push_back(k);  // else `had_` counts those before as one
  }
}

/// What the child costs beside goods and deliveries, with the least for tools.
std::int64_t Expander::sure_own_cost() const {
  std::int64_t sum = 0;
  for (const int u : chosen_) sum += model_.units()[u].cost;
  for (const int r : removals_) sum += model_.data().removals[r].cost.minor();
  for (const int k : tools_) sum += relaxed_.goods->hire(k);
  for (const int k : onces_) sum += relaxed_.tool_cost[k] * relaxed_.unit_cost;
  return sum;
}

void Expander::emit_sure(const Node& node) {
  collect_demand();
  find_onces();
  Stores stores = stores_;
  lines_.clear();
  missing_.clear();
  if (!chosen_.empty()) model_.buyer().list(stage_, demand_, stores, lines_, missing_);
  meter_->add(200 + 100 * static_cast<std::int64_t>(demand_.needs.size()) + relaxed_.tools());
  if (!missing_.empty()) return;
  const std::int64_t work = orders_.work();
  const SureOrders::Doing doing{stage_, lines_, onces_, parent_->spent, reach_};
  const std::int64_t goods = orders_.least(doing);
  meter_->add(steps_of_way * (orders_.work() - work));
  if (goods == SureOrders::none) return;
  Row row;
  row.spent = parent_->spent + sure_own_cost() + goods;
  if (row.spent > orders_.cap(stage_)) return;
  forget(stores);
  owned_none_.assign(words_for(model_.data().tools.size()), 0);
  const std::int64_t sure = row.spent - saving_with(stores, owned_none_.data());
  row.relaxed = std::max<std::int64_t>(0, sure / relaxed_.unit_cost - relaxed_.excess);  // the axis is cut
  row.value = node.value;
  row.bound = node.bound_base + bounder_.completion().at(stage_ + 1, row.relaxed);
  if (row.bound < goal_->floor) return;
  child_words_.assign(done_.begin(), done_.end());
  if (tool_words_ > 0) {
    child_words_.resize(done_words_ + first_free_ / 64, 0);
    child_words_.insert(child_words_.end(), here_.begin(), here_.end());
  }
  row.key_words = static_cast<std::uint32_t>(child_words_.size());
  if (stage_ + 1 < model_.stage_count()) {
    orders_.reach_after(doing, row.spent, left_, had_, reach_after_);
    for (const std::int64_t r : reach_after_) child_words_.push_back(static_cast<std::uint64_t>(r));
    for (const int article : kept_) encode_rest(article, stores.lots, child_words_);
    row.order_words = static_cast<std::uint32_t>(child_words_.size()) - row.key_words;
  }
  emit_row(row, child_words_);
}

}  // namespace fettlefund::budgets::search
