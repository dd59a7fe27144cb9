#include "budgets/search/layers/search.hpp"

#include <algorithm>
#include <limits>

namespace fettlefund::budgets::search {
namespace {

constexpr std::int64_t lowest = -(std::int64_t{1} << 28);  ///< below the grid value of every plan
constexpr std::int64_t glance_effort = 2'000'000;
constexpr std::int64_t least_effort = 300'000;       ///< steps for the multipliers of a layer
constexpr std::int64_t linear_effort = 400'000'000;  ///< for the first multipliers, at most
constexpr int vain_share = 40;  ///< of the steps left, for schedules that turn out not to be bought for
constexpr std::size_t most_costed = 100'000;
constexpr std::int64_t cost_steps = 30;  ///< for each comparison of two ways of buying
constexpr int many_units = 100;  ///< so many rounded costs blur a coarse axis more than its steps are worth

}  // namespace

Search::Search(const Model& model, const Relaxed& relaxed, Bounder& bounder, Meter& meter, Watch watch)
    : Search(model, relaxed, bounder, meter, std::move(watch),
             relaxed.exact ? Costing::additive : Costing::shopped) {}

Search::Search(const Model& model, const Relaxed& relaxed, Bounder& bounder, Meter& meter, Watch watch,
               Costing costing)
    : model_(model),
      relaxed_(relaxed),
      bounder_(bounder),
      meter_(meter),
      watch_(std::move(watch)),
      costing_(costing),
      expander_(model, relaxed, bounder, costing),
      coster_(model.problem()),
      multipliers_(relaxed.stages),
      crowded_(relaxed.stages, 1),
      enough_(no_value) {}

void Search::offer(const Found& found) {
  if (!best_ || better(found.rank, best_->rank)) best_ = found;
}

/// The grid bound that a partial plan needs to be worth following.
void Search::set_goal() {
  goal_.least = lowest;
  goal_.floor = std::max(goal_.floor, lowest);
  if (enough_ != no_value) goal_.least = bounder_.scale().up(enough_);
  if (best_) {
    const std::int64_t wanted = best_->rank.value + (ties_ ? 0 : 1);
    goal_.least = std::max(goal_.least, bounder_.scale().up(wanted));
  }
  goal_.floor = std::max(goal_.floor, goal_.least);
  if (ties_ && best_) goal_.most_money = std::min(goal_.most_money, best_->rank.spent);
}

void Search::open_layers(std::size_t width) {
  layers_.assign(relaxed_.stages,
                 Layer(costing_ == Costing::sure ? nullptr : &expander_.ways(), model_.data().allowance_bp));
  std::vector<std::uint64_t> words;
  Row row = expander_.first_row(words);
  row.bound = std::numeric_limits<std::int64_t>::max();
  layers_[0].insert(row, words);
  layers_[0].trim(width, lowest);
}

/// Adopts multipliers for a layer: those of an earlier run or of the layer before, improved at the plans that
/// matter (the best, then one in the top twentieth).
void Search::choose_multipliers(int stage) {
  Layer& layer = layers_[stage];
  if (layer.size() == 0) return;
  const bool fresh = multipliers_[stage].empty();
  std::vector<double> values = !fresh       ? multipliers_[stage]
                               : stage == 0 ? std::vector<double>()
                                            : multipliers_[stage - 1];
  const double hope = best_ ? static_cast<double>(best_->rank.value) : -1e18;
  if (values.empty())
    values = bounder_.linear_start(hope, std::min(meter_.left() / 10, linear_effort), meter_);
  const Tuning tuning = tuning_for(stage, fresh);
  const std::int64_t work = stage == 0 ? run_work_ / 3 : layer_work_ / 2;
  std::int64_t allowance = std::max<std::int64_t>(work, least_effort);
  if (stage == 0 && fresh) allowance = meter_.left() / 3;
  const std::size_t pick = layer.size() / 20;
  const Root root = expander_.root_of(layer, layer.row(pick), stage);
  bounder_.improve(root, values, tuning, goal_.least, hope, allowance, meter_);
  multipliers_[stage] = values;
}

/// Longer steps where only the linear relaxation is known yet, short ones on the fine axis later.
Tuning Search::tuning_for(int stage, bool fresh) const {
  if (stage == 0 && fresh) return {60, 25, 0.1, 0.6, 0.02, relaxed_.units > many_units};
  if (stage == 0) return {60, 25, 0.4, 0.6, 0.02, true};
  return fresh ? Tuning{8, 25, 0.5, 0.6, 0.05, false} : Tuning{8, 25, 0.25, 0.6, 0.02, true};
}

/// Puts the layer's multipliers in force and lowers the bounds of its rows by them.
void Search::rebound(int stage) {
  Layer& layer = layers_[stage];
  if (layer.size() == 0) return;
  bounder_.load(multipliers_[stage], stage, stage, meter_);
  for (std::size_t i = 0; i < layer.size(); ++i) {
    Row& row = layer.row(i);
    row.bound = std::min(row.bound, bounder_.bound(expander_.root_of(layer, row, stage)));
  }
  meter_.add(static_cast<std::int64_t>(layer.size()) * (20 + relaxed_.units));
}

/// Makes the children that come up to the floor, from the rows with the highest bounds on. A row may use an
/// eighth of what `meter` has; false if some row was left unfinished.
bool Search::pass(int stage, std::size_t width, Layer& next, Meter& meter) {
  const Layer& layer = layers_[stage];
  const auto finish_row = [&](const Row& row, const std::vector<std::uint64_t>& words) {
    finish(stage, row, words);
  };
  const auto cut = [&](Layer& full) { crowd(full, width); };
  const std::int64_t share = meter.left() / 8;
  bool whole = true;
  for (std::size_t i = 0; i < layer.size() && layer.row(i).bound >= goal_.floor; ++i) {
    ++states_;
    const auto row = static_cast<std::uint32_t>(i);
    Meter part = meter.part(share);
    if (!expander_.expand(layer, row, goal_, next, finish_row, cut, part)) {
      drop(layer.row(i).bound);
      whole = false;
    }
    meter.add(part.steps());
    if (meter.out()) {
      if (i + 1 < layer.size()) drop(layer.row(i + 1).bound);
      return false;
    }
    if (best_ && best_->rank.value >= enough_) return whole;
  }
  return whole;
}

/// A few children at any rate: the first that come, of as many rows as the width allows.
void Search::glance(int stage, std::size_t width, Layer& next) {
  goal_.floor = goal_.least;
  const auto finish_row = [&](const Row& row, const std::vector<std::uint64_t>& words) {
    finish(stage, row, words);
  };
  const auto cut = [&](Layer& full) { crowd(full, width); };
  const std::size_t rows = std::min(width, layers_[stage].size());
  for (std::size_t i = 0; i < rows; ++i) {
    Meter meter =
        meter_.part(std::max<std::int64_t>(glance_effort / static_cast<std::int64_t>(rows), 20'000));
    expander_.expand(layers_[stage], static_cast<std::uint32_t>(i), goal_, next, finish_row, cut, meter);
    meter_.add(meter.steps());
  }
}

/// Where the last run's children were too many to keep, a high floor is tried first and lowered until there
/// are enough: far fewer are made in vain.
bool Search::expand_layer(int stage, std::size_t width) {
  Layer& layer = layers_[stage];
  if (layer.size() == 0) return true;
  Layer last;
  const bool ends = stage + 1 == relaxed_.stages;
  Layer& next = ends ? last : layers_[stage + 1];
  // Orders of this payday are placed by the children: stages left may join them.
  if (!relaxed_.ordering.empty()) bounder_.load(multipliers_[stage], stage, stage + 1, meter_);
  expander_.start_layer(stage);
  goal_.room = 2 * width;
  const std::int64_t top = layer.row(0).bound;
  Meter meter = meter_.part(meter_.left() / (width <= 10 ? 200 : 2));
  std::int64_t reach = std::min((top - goal_.least) / 64, std::abs(top) / 128) + 16;
  bool whole = true;
  for (;; reach *= 4) {
    const bool all = ends || !crowded_[stage] || top - reach <= goal_.least;
    const std::int64_t floor = all ? goal_.least : top - reach;
    goal_.floor = floor;
    whole = pass(stage, width, next, meter);
    if (all || !whole || next.size() >= width) {
      if (floor > goal_.least) drop(floor - 1);
      break;
    }
    if (best_ && best_->rank.value >= enough_) break;
  }
  meter_.add(meter.steps());
  if (!whole && next.size() == 0 && !meter_.out()) glance(stage, width, next);
  const std::size_t found = next.size();
  crowd(next, width);
  crowded_[stage] = found > width || !whole;
  if (!meter_.out()) return true;
  for (std::size_t n = 0; n < next.size(); ++n) drop(next.row(n).bound);
  return false;
}

void Search::report(int stage) {
  if (!watch_) return;
  std::int64_t top = std::max(dropped_, goal_.least - 1);
  for (std::size_t i = 0; i < layers_[stage].size(); ++i) top = std::max(top, layers_[stage].row(i).bound);
  std::int64_t bound = bounder_.scale().floor_worth(top);
  if (best_) bound = std::max(bound, best_->rank.value);  // what cannot beat it is not in the layer any more
  watch_(best_, bound, stage, states_);
}

void Search::start_from(const std::vector<std::vector<double>>& multipliers) {
  const std::size_t size = bounder_.start().size();
  for (std::size_t t = 0; t < std::min(multipliers.size(), multipliers_.size()); ++t) {
    if (multipliers[t].size() == size) multipliers_[t] = bounder_.make_fit(multipliers[t]);
  }
}

/// Cuts a layer to its width. Once it is full, children below its worst row need not be made; no row that
/// goes has a higher bound than that.
void Search::crowd(Layer& layer, std::size_t width) {
  if (layer.trim(width, goal_.least) < goal_.least) return;
  const std::int64_t worst = layer.row(layer.size() - 1).bound;
  drop(worst);
  goal_.floor = std::max(goal_.floor, worst + 1);
}

Outcome Search::run(std::size_t width, std::int64_t most_money, bool ties) {
  ties_ = ties;
  const std::int64_t begin = meter_.steps();
  goal_.most_money = most_money;
  goal_.ways = ways_within(width);
  vain_ = 0;
  most_vain_ = meter_.left() / vain_share;
  expander_.forget_skipped();
  dropped_ = std::numeric_limits<std::int64_t>::min();
  set_goal();
  bounder_.set_caps(relaxed_.caps_within(goal_.most_money));
  open_layers(width);
  bool whole = true;
  for (int t = 0; t < relaxed_.stages && whole; ++t) {
    choose_multipliers(t);
    rebound(t);
    layers_[t].trim(width, goal_.least);
    report(t);
    const std::int64_t before = meter_.steps();
    whole = expand_layer(t, width) && !(best_ && best_->rank.value >= enough_);
    layer_work_ = meter_.steps() - before;
  }
  run_work_ = meter_.steps() - begin;
  drop(expander_.skipped());
  Outcome outcome;
  outcome.exhausted = dropped_ < goal_.least;
  outcome.bound =
      outcome.exhausted ? std::numeric_limits<std::int64_t>::min() : bounder_.scale().floor_worth(dropped_);
  if (best_) outcome.bound = std::max(outcome.bound, best_->rank.value);
  return outcome;
}

void Search::finish(int stage, const Row& row, const std::vector<std::uint64_t>& words) {
  const Rank rank{row.value, row.spent, row.minutes};
  if (best_ && !better(rank, best_->rank)) return;
  Found found{schedule_of(stage, row, words), rank};
  if (costing_ == Costing::shopped) {
    const std::optional<Rank> known = true_rank(found.schedule);
    // What was joined of several ways of buying perhaps no way can do; and of many ways `cost` may miss one.
    if (!known || better(rank, *known)) drop(bounder_.scale().up(rank.value));
    if (!known || (best_ && !better(*known, best_->rank))) return;
    found.rank = *known;
  }
  best_ = std::move(found);
  set_goal();
}

/// What the schedule comes to when it is bought for; nothing if no way is known. Looked at once each, and
/// only so many in a run that cannot be bought for.
std::optional<Rank> Search::true_rank(const Schedule& schedule) {
  std::uint64_t key = 0;
  for (const auto* part : {&schedule.stage_of, &schedule.tool_bought}) {
    for (const int stage : *part) {
      key = (key ^ static_cast<std::uint64_t>(stage + 2)) * 0x9e3779b97f4a7c15U;
      key ^= key >> 32;
    }
  }
  const auto seen = costed_.find(key);
  if (seen != costed_.end()) return seen->second;
  if (vain_ > most_vain_) return std::nullopt;
  if (costed_.size() >= most_costed) costed_.clear();
  const std::int64_t before = coster_.work();
  const auto plan = coster_.plan(schedule);
  const std::int64_t steps = cost_steps * (coster_.work() - before + 100);
  meter_.add(steps);
  if (!plan) vain_ += steps;
  return costed_[key] =
             plan ? std::optional<Rank>({plan->value, plan->spent.minor(), plan->minutes}) : std::nullopt;
}

/// Few in a narrow run, which looks for a good plan; in a wide one, which is to prove, many.
std::size_t Search::ways_within(std::size_t width) const {
  std::size_t ways = 1;
  for (std::size_t w = 10; w < width; w *= 10) ways *= 4;
  return std::min<std::size_t>(ways, 4096);
}

/// What a stage adds: units whose bit changes, and tools bought where those are kept.
void Search::note_step(Schedule& schedule, int stage, const std::uint64_t* before,
                       const std::uint64_t* after) const {
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (has_bit(after, u) == has_bit(before, u)) continue;
    for (int j : model_.units()[u].jobs) schedule.stage_of[j] = stage;
  }
  if (costing_ != Costing::shopped) return;
  for (std::size_t k = 0; k < model_.data().tools.size(); ++k) {
    const int bit = static_cast<int>(k);
    const int words = expander_.done_words();
    if (has_bit(after + words, bit) != has_bit(before + words, bit)) schedule.tool_bought[k] = stage;
  }
}

void Search::complete_tools(Schedule& schedule) const {
  const auto use = [&](int tool, int stage) {
    int& bought = schedule.tool_bought[tool];
    if (bought < 0 || stage < bought) bought = stage;
  };
  for (std::size_t j = 0; j < schedule.stage_of.size(); ++j) {
    const int stage = schedule.stage_of[j];
    if (stage < 0) continue;
    for (int k : model_.data().jobs[j].tools) use(k, stage);
    for (int r : model_.problem().opened_by(static_cast<int>(j))) {
      for (int k : model_.data().removals[r].tools) use(k, stage);
    }
  }
}

Schedule Search::schedule_of(int stage, const Row& row, const std::vector<std::uint64_t>& words) const {
  Schedule schedule;
  schedule.stage_of.assign(model_.data().jobs.size(), -1);
  schedule.tool_bought.assign(model_.data().tools.size(), -1);
  const std::uint64_t* after = words.data();
  std::uint32_t parent = row.parent;
  for (int t = stage; t >= 0; --t) {
    const Row& before = layers_[t].row(parent);
    note_step(schedule, t, layers_[t].words(before), after);
    after = layers_[t].words(before);
    parent = before.parent;
  }
  if (costing_ != Costing::shopped) complete_tools(schedule);
  return schedule;
}

}  // namespace fettlefund::budgets::search
