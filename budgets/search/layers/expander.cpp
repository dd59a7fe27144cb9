#include "budgets/search/layers/expander.hpp"

#include <algorithm>
#include <limits>
#include <queue>

namespace fettlefund::budgets::search {

bool better(const Rank& a, const Rank& b) {
  if (a.value != b.value) return a.value > b.value;
  if (a.spent != b.spent) return a.spent < b.spent;
  return a.minutes < b.minutes;
}

Expander::Expander(const Model& model, const Relaxed& relaxed, const Bounder& bounder, Costing costing)
    : model_(model),
      relaxed_(relaxed),
      bounder_(bounder),
      costing_(costing),
      orders_(relaxed),
      ways_(model.problem(), model.buyer()) {
  done_words_ = std::max(1, model.words());
  first_free_ = static_cast<int>(model.data().tools.size() + 63) / 64 * 64;
  const bool words = costing == Costing::shopped || model.free_count() > 0;
  tool_words_ = words ? first_free_ / 64 + model.free_words() : 0;
  forget_skipped();
  if (costing == Costing::sure) {
    kept_ = relaxed.goods->kept();
    opening_ = model.buyer().opening_stores();
  }
  all_musts_.assign(done_words_, 0);
  for (int u = 0; u < model.unit_count(); ++u) {
    if (model.units()[u].must) set_bit(all_musts_.data(), u);
  }
  open_.assign(relaxed.charges.size(), 0);
  fees_.assign(relaxed.fees.size(), 0);
  left_.assign(relaxed.units, 0);
}

Row Expander::first_row(std::vector<std::uint64_t>& words) const {
  words.assign(done_words_ + tool_words_, 0);
  if (costing_ == Costing::shopped) {
    Stores stores = model_.buyer().opening_stores();
    model_.buyer().forget(0, stores);
    encode(stores.lots, words);
  }
  Row row;
  row.key_words = static_cast<std::uint32_t>(words.size());
  return row;
}

Root Expander::root_of(const Layer& layer, const Row& row, int stage) const {
  Root root{stage, std::vector<char>(relaxed_.units, 0), std::vector<char>(relaxed_.tools(), 0), row.relaxed,
            row.value};
  const std::uint64_t* words = layer.words(row);
  for (int u = 0; u < relaxed_.units; ++u) {
    if (!has_bit(words, u)) continue;
    root.done[u] = 1;
    for (int k : relaxed_.tools_of[u]) root.had[k] = 1;
  }
  return root;
}

void Expander::start_layer(int stage) {
  stage_ = stage;
  const Prices& prices = bounder_.prices();
  gain_.assign(relaxed_.units, 0);
  due_.assign(done_words_, 0);
  for (int u = 0; u < relaxed_.units; ++u) {
    gain_[u] =
        bounder_.scale().up(relaxed_.worth_at(u, stage)) - prices.done[(stage + 1) * relaxed_.units + u];
    bool later = false;
    for (int t = stage + 1; t < model_.stage_count(); ++t) later |= model_.allowed(u, t);
    if (model_.units()[u].must && !later) set_bit(due_.data(), u);
  }
  order_units();
}

/// The most promising units first, as far as what they require allows: then little is left to hope for deep
/// in the tree, and it is cut early.
void Expander::order_units() {
  std::vector<std::vector<int>> dependents(relaxed_.units);
  std::vector<int> waiting(relaxed_.units, 0);
  std::priority_queue<std::pair<std::int64_t, int>> ready;
  for (int u = 0; u < relaxed_.units; ++u) {
    for (int b : model_.units()[u].before) dependents[b].push_back(u), ++waiting[u];
  }
  for (int u = 0; u < relaxed_.units; ++u) {
    if (waiting[u] == 0) ready.emplace(gain_[u], -u);
  }
  order_.clear();
  while (!ready.empty()) {
    const int u = -ready.top().second;
    ready.pop();
    order_.push_back(u);
    for (int d : dependents[u]) {
      if (--waiting[d] == 0) ready.emplace(gain_[d], -d);
    }
  }
}

std::int64_t Expander::tool_gain(int tool) const {
  return -bounder_.prices().had[(stage_ + 1) * relaxed_.tools() + tool];
}

void Expander::load_row(const Layer& layer, const Row& row) {
  const std::uint64_t* words = layer.words(row);
  done_.assign(words, words + done_words_);
  had_.assign(relaxed_.tools(), 0);
  taken_.assign(model_.group_count(), 0);
  for (int u = 0; u < relaxed_.units; ++u) {
    if (!has_bit(words, u)) continue;
    for (int k : relaxed_.tools_of[u]) had_[k] = 1;
    for (int g : model_.units()[u].groups) taken_[g] = 1;
  }
  chosen_.clear();
  if (costing_ == Costing::shopped) load_stores(row, words);
  if (costing_ == Costing::sure) load_sure(row, words);
  note_renewed();
}

void Expander::note_renewed() {
  renewed_.assign(static_cast<std::size_t>(model_.renewal_words()), 0);
  for (int u = 0; u < relaxed_.units && !renewed_.empty(); ++u) {
    if (!has_bit(done_.data(), u)) continue;
    for (const Unit::Renewed& one : model_.units()[u].renewed) set_bit(renewed_.data(), one.renewal);
  }
}

/// The node without what its units would earn a second time.
Expander::Node Expander::true_worth(Node node) {
  renewed_after_ = renewed_;
  const std::int64_t twice = model_.earned_twice(chosen_, stage_, renewed_after_.data());
  node.value -= twice;
  node.bound_base -= bounder_.scale().up(twice);
  return node;
}

/// Units that could be added now or after others of this stage.
void Expander::find_candidates() {
  candidates_.clear();
  Bits reachable = done_;
  for (int u : order_) {
    if (has_bit(done_.data(), u) || !model_.allowed(u, stage_)) continue;
    const auto& unit = model_.units()[u];
    const auto met = [&](int b) { return has_bit(reachable.data(), b); };
    if (!std::all_of(unit.before.begin(), unit.before.end(), met)) continue;
    if (std::any_of(unit.groups.begin(), unit.groups.end(), [&](int g) { return taken_[g]; })) continue;
    set_bit(reachable.data(), u);
    candidates_.push_back({u, gain_[u], 0, 0, 0, 0});
  }
}

bool Expander::may_add(int unit) const {
  const auto& u = model_.units()[unit];
  for (int b : u.before) {
    if (!has_bit(done_.data(), b)) return false;
  }
  return std::none_of(u.groups.begin(), u.groups.end(), [&](int g) { return taken_[g]; });
}

/// Adds a unit with the charges and tools it is the first to have. False (nothing changed but `node`) if
/// that breaks the stage's time or the cap of money.
bool Expander::add(const Candidate& candidate, Node& node) {
  const int u = candidate.unit;
  node.bound_base += candidate.gain;
  node.relaxed += relaxed_.cost_at(u, stage_);
  node.minutes += relaxed_.minutes[u];
  node.value += relaxed_.worth_at(u, stage_);
  for (int e : relaxed_.charges_of[u]) {
    if (open_[e] != 0) continue;
    const Charge& charge = relaxed_.charges[e];
    node.relaxed += charge.cost;
    node.minutes += charge.minutes;
    node.value -= charge.worth;
    node.bound_base -= bounder_.prices().charge_worth[e];
  }
  for (int k : relaxed_.tools_of[u]) {
    if (had_[k] != 0) continue;
    node.relaxed += relaxed_.tool_cost[k];
    node.bound_base += tool_gain(k);
  }
  for (int f : relaxed_.fees_of[u]) node.relaxed += fees_[f] == 0 ? relaxed_.fees[f].cost : 0;
  if (node.minutes > model_.data().stages[stage_].minutes) return false;
  node.fit_changed |= model_.matters_for_fit(u);
  for (int e : relaxed_.charges_of[u]) ++open_[e];
  for (int k : relaxed_.tools_of[u]) ++had_[k];
  for (int f : relaxed_.fees_of[u]) ++fees_[f];
  for (int g : model_.units()[u].groups) taken_[g] = 1;
  set_bit(done_.data(), u);
  chosen_.push_back(u);
  if (model_.keeps_days(chosen_, stage_)) return true;
  remove(u);
  return false;
}

void Expander::remove(int unit) {
  for (int e : relaxed_.charges_of[unit]) --open_[e];
  for (int k : relaxed_.tools_of[unit]) --had_[k];
  for (int f : relaxed_.fees_of[unit]) --fees_[f];
  for (int g : model_.units()[unit].groups) taken_[g] = 0;
  flip_bit(done_.data(), unit);
  chosen_.pop_back();
}

bool Expander::visit(std::size_t next, const Node& node) {
  const Completion& table = bounder_.completion();
  for (std::size_t i = next; i < candidates_.size(); ++i) {
    const Candidate& candidate = candidates_[i];
    if (promise(i, node) < goal_->floor) return true;
    if (meter_->out()) return false;
    if (!may_add(candidate.unit)) continue;
    meter_->add(12);
    Node child = node;
    child.shared_base += candidate.shared_gain;
    child.shared_relaxed += candidate.shared_cost;
    child.shared_minutes += candidate.shared_minutes;
    if (shared_promise(i + 1, child) < goal_->floor) continue;
    meter_->add(40);
    if (!add(candidate, child)) continue;
    bool whole = true;
    if (promise(i + 1, child) >= goal_->floor) {
      const std::int64_t bound = child.bound_base + table.at(stage_ + 1, child.relaxed);
      if (bound >= goal_->floor) emit(child);
      whole = visit(i + 1, child);
    }
    remove(candidate.unit);
    if (!whole) return false;
  }
  return true;
}

bool Expander::expand(const Layer& layer, std::uint32_t row, Goal& goal, Layer& next, const Finish& finish,
                      const Crowd& crowd, Meter& meter) {
  const Row parent = layer.row(row);
  parent_ = &parent;
  parent_index_ = row;
  goal_ = &goal;
  next_ = &next;
  finish_ = &finish;
  crowd_ = &crowd;
  meter_ = &meter;
  load_row(layer, parent);
  find_candidates();
  meter.add(60 + relaxed_.units);
  Node node;
  node.relaxed = parent.relaxed;
  node.value = parent.value;
  node.fit_changed = stage_ == 0;
  node.bound_base = bounder_.scale().up(parent.value) + bounder_.prices().constant;
  for (int u = 0; u < relaxed_.units; ++u) {
    if (has_bit(done_.data(), u))
      node.bound_base -= bounder_.prices().done[(stage_ + 1) * relaxed_.units + u];
  }
  for (int k = 0; k < relaxed_.tools(); ++k) {
    if (had_[k] != 0) node.bound_base += tool_gain(k);
  }
  if (node.bound_base + bounder_.completion().at(stage_ + 1, node.relaxed) >= goal.floor) emit(node);
  look_ahead(node);
  return visit(0, node);
}

/// Works out which free carriers are on the machine after the child.
void Expander::note_free() {
  if (model_.free_count() == 0) return;
  here_.assign(owned_.begin() + first_free_ / 64, owned_.end());
  model_.change_free(here_.data(), chosen_);
}

bool Expander::musts_in_time() const {
  for (int w = 0; w < done_words_; ++w) {
    if ((due_[w] & ~done_[w]) != 0) return false;
  }
  return true;
}

void Expander::emit(const Node& node) {
  if (!musts_in_time()) return;
  note_free();
  if (node.fit_changed && !model_.fits(done_.data(), here_.data())) return;
  meter_->add(150);
  switch (costing_) {
    case Costing::additive:
      return emit_exact(node);
    case Costing::shopped:
      return emit_goods(renewed_.empty() ? node : true_worth(node));
    case Costing::sure:
      return emit_sure(renewed_.empty() ? node : true_worth(node));
  }
}

void Expander::emit_row(Row& row, std::vector<std::uint64_t>& words) {
  row.parent = parent_index_;
  row.bound = std::min(row.bound, parent_->bound);
  bool whole = affordable_;
  for (int w = 0; w < done_words_; ++w) whole &= (all_musts_[w] & ~done_[w]) == 0;
  if (whole) (*finish_)(row, words);
  if (stage_ + 1 >= model_.stage_count() || row.bound < goal_->floor) return;
  meter_->add(40 * next_->insert(row, words));
  if (next_->size() > goal_->room) (*crowd_)(*next_);
}

}  // namespace fettlefund::budgets::search
