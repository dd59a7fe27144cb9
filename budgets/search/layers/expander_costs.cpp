#include <algorithm>

#include "budgets/search/layers/expander.hpp"
#include "budgets/values/lists.hpp"

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t steps_of_way = 2;  ///< for each way to buy that is looked at

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

/// Tools and packs of the relaxed problem that no unit done before needs.
void Expander::find_onces() {
  std::vector<int> users(relaxed_.tools(), 0);
  for (const int u : chosen_) {
    for (const int k : relaxed_.tools_of[u]) ++users[k];
  }
  onces_.clear();
  for (int k = 0; k < relaxed_.tools(); ++k) {
    if (users[k] > 0 && had_[k] == users[k]) onces_.push_back(k);  // else `had_` counts those before as one
  }
}

void Expander::emit_sure(const Node& node) {
  find_onces();
  const std::int64_t work = orders_.work();
  const SureOrders::Doing doing{stage_, chosen_, onces_, parent_->spent, reach_};
  const std::int64_t orders = orders_.least(doing);
  meter_->add(relaxed_.tools() + steps_of_way * (orders_.work() - work));
  if (orders == SureOrders::none) return;
  Row row;
  row.spent = parent_->spent + (node.relaxed - parent_->relaxed) + orders;
  if (row.spent > relaxed_.caps[stage_] + relaxed_.excess) return;
  row.relaxed = std::max<std::int64_t>(0, row.spent - relaxed_.excess);  // the axis is cut
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
    for (int u = 0; u < relaxed_.units; ++u)
      left_[u] = !has_bit(done_.data(), u) && model_.units()[u].last > stage_;
    orders_.reach_after(doing, row.spent, left_, had_, reach_after_);
    for (const std::int64_t r : reach_after_) child_words_.push_back(static_cast<std::uint64_t>(r));
    row.order_words = static_cast<std::uint32_t>(reach_after_.size());
  }
  emit_row(row, child_words_);
}

}  // namespace fettlefund::budgets::search
