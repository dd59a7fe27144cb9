#include "budgets/search/local/rebuild.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {
namespace {

// Tried on the instance families of the bench.
constexpr int most_removed = 10;  ///< at a time, besides what requires them
constexpr int most_others = 24;   ///< units left out that are tried in a rebuilding
constexpr int blink_one_in = 50;  ///< so seldom a stage with room is passed over
constexpr int delay_one_in = 6;   ///< so seldom the seed is put off, or left out
constexpr int threshold_part = 3;

}  // namespace

Rebuilder::Rebuilder(const Relaxed& relaxed, std::vector<double> rates, std::uint64_t seed)
    : relaxed_(relaxed),
      rates_(std::move(rates)),
      random_(seed),
      plan_(relaxed),
      dependents_(relaxed.units),
      bonds_of_(relaxed.units),
      keys_(relaxed.units, 0.0),
      listed_(relaxed.units, 0) {
  std::vector<std::vector<int>> by_charge(relaxed.charges.size()), by_tool(relaxed.tools()),
      by_need(relaxed.units), by_group(relaxed.model->group_count());
  for (int u = 0; u < relaxed.units; ++u) {
    const Unit& unit = relaxed.model->units()[u];
    if (unit.must) musts_.push_back(u);
    if (!idle(u)) wanted_.push_back(u);
    for (int b : unit.before) {
      dependents_[b].push_back(u);
      by_need[b].push_back(u);
    }
    for (int e : relaxed.charges_of[u]) by_charge[e].push_back(u);
    for (int k : relaxed.tools_of[u]) by_tool[k].push_back(u);
    for (int g : unit.groups) by_group[g].push_back(u);
  }
  for (int u = 0; u < relaxed.units; ++u) {
    if (!by_need[u].empty()) by_need[u].push_back(u);
  }
  for (auto* lists : {&by_charge, &by_tool, &by_need, &by_group}) {
    for (auto& list : *lists) {
      if (list.size() < 2) continue;
      for (int u : list) bonds_of_[u].push_back(static_cast<int>(bonds_.size()));
      bonds_.push_back(std::move(list));
    }
  }
}

/// Puts a unit, with what it requires, into the first stage with room of those given; one of no worth, the
/// last.
bool Rebuilder::insert(int unit, int first, int limit, bool blink) {
  const Unit& data = relaxed_.model->units()[unit];
  if (!plan_.groups_are_free(unit)) return false;
  first = std::max(data.first, first);
  for (int b : data.before) first = std::max(first, plan_.stage_of(b));
  const int last = std::min(data.last, limit);
  work_ += 2 + static_cast<std::int64_t>(data.before.size());
  for (int i = first; i <= last; ++i) {
    const int stage = idle(unit) ? last - (i - first) : i;
    if (insert_in(unit, stage, blink)) return true;
  }
  return false;
}

bool Rebuilder::insert_in(int unit, int stage, bool blink) {
  if (!plan_.fits(unit, stage)) return false;
  if (blink && random_.below(blink_one_in) == 0) return false;
  const std::size_t before = plan_.changes().size();
  if (insert_required(unit, stage) && (plan_.changes().size() == before || plan_.fits(unit, stage))) {
    plan_.put(unit, stage);
    return true;
  }
  plan_.undo_to(before);
  return false;
}

bool Rebuilder::insert_required(int unit, int stage) {
  const auto& before = relaxed_.model->units()[unit].before;
  return std::all_of(before.begin(), before.end(),
                     [&](int b) { return plan_.has(b) || insert(b, 0, stage, false); });
}

/// Takes a unit out with all that requires it, and what is then done for nothing.
void Rebuilder::remove(int unit) {
  if (!plan_.has(unit)) return;
  work_ += static_cast<std::int64_t>(dependents_[unit].size());
  for (int d : dependents_[unit]) remove(d);
  if (!plan_.has(unit)) return;  // went with the last that required it
  plan_.take(unit);
  for (int b : relaxed_.model->units()[unit].before) {
    if (plan_.has(b) && idle(b) && plan_.users(b) == 0) remove(b);
  }
}

/// Units in the order of their stages, as far as they have room.
void Rebuilder::start_from(const std::vector<int>& stage_of) {
  for (int t = 0; t < relaxed_.stages; ++t) {
    for (int u = 0; u < relaxed_.units; ++u) {
      if (stage_of[u] != t || plan_.has(u) || !plan_.fits(u, t)) continue;
      const auto& before = relaxed_.model->units()[u].before;
      if (std::all_of(before.begin(), before.end(), [&](int b) { return plan_.has(b); })) plan_.put(u, t);
    }
  }
}

void Rebuilder::fill_by_rate() {
  candidates_ = wanted_;
  for (int u : candidates_) keys_[u] = relaxed_.model->units()[u].must ? 1e300 : rates_[u];
  std::stable_sort(candidates_.begin(), candidates_.end(), [&](int a, int b) { return keys_[a] > keys_[b]; });
  for (int u : candidates_) {
    if (!plan_.has(u)) insert(u, 0, relaxed_.stages - 1, false);
  }
}

std::int64_t Rebuilder::score() const {
  std::int64_t score = plan_.value();
  for (int u : musts_) score -= plan_.has(u) ? 0 : missing_must;
  return score;
}

/// Whether mates agree and no clash is open at the end of any stage.
bool Rebuilder::fits() const {
  Bits done(relaxed_.model->words(), 0);
  for (int t = 0; t < relaxed_.stages; ++t) {
    for (int u = 0; u < relaxed_.units; ++u) {
      if (plan_.stage_of(u) == t) set_bit(done.data(), u);
    }
    if (!relaxed_.model->fits(done.data(), nullptr)) return false;
  }
  return true;
}

void Rebuilder::note_best() {
  if (best_ && score() <= best_score_) return;
  work_ += std::int64_t{relaxed_.stages} * relaxed_.units;
  if (!fits()) return;
  best_score_ = score();
  best_ = plan_.stages();
}

/// Takes out units that share something with the seed, or with one that does.
void Rebuilder::remove_related(int seed, int count) {
  int unit = seed;
  for (int i = 0; i < 4 * count; ++i) {
    if (bonds_of_[unit].empty()) return;
    const int next = any(bonds_[any(bonds_of_[unit])]);
    ++work_;
    if (plan_.has(next)) {
      remove(next);
      if (--count == 0) return;
    }
    if (random_.below(3) == 0) unit = next;
  }
}

/// Takes out units of a stage and of the next.
void Rebuilder::remove_around(int stage, int count) {
  for (int i = 0; i < 8 * count && count > 0; ++i) {
    const int unit = any(wanted_);
    const int at = plan_.stage_of(unit);
    ++work_;
    if (at < stage || at > stage + 1) continue;
    remove(unit);
    --count;
  }
}

/// The units to be put back: those taken out, the seed, and some that were left out.
void Rebuilder::collect(int seed) {
  candidates_.clear();
  const auto list = [&](int unit) {
    if (listed_[unit] || plan_.has(unit) || idle(unit)) return;
    listed_[unit] = 1;
    candidates_.push_back(unit);
  };
  list(seed);
  for (const auto& change : plan_.changes()) list(change.unit);
  const int size = static_cast<int>(wanted_.size());
  const int from = random_.below(size);
  const int most = static_cast<int>(candidates_.size()) + most_others;
  for (int i = 0; i < size && static_cast<int>(candidates_.size()) < most; ++i) {
    list(wanted_[(from + i) % size]);
    ++work_;
  }
  for (int u : candidates_) listed_[u] = 0;
}

void Rebuilder::order_candidates() {
  const int way = random_.below(4);
  for (int u : candidates_) {
    const double noise = 1 + random_.below(1024) / 1024.0;
    keys_[u] = way == 0 ? noise : way == 1 ? rates_[u] : rates_[u] * noise;
    if (relaxed_.model->units()[u].must) keys_[u] = 1e300;
  }
  std::stable_sort(candidates_.begin() + 1, candidates_.end(),
                   [&](int a, int b) { return keys_[a] > keys_[b]; });
  work_ += 12 * static_cast<std::int64_t>(candidates_.size());
}

/// One random change.
void Rebuilder::rebuild() {
  const int seed = any(wanted_);
  const int count = 1 + random_.below(most_removed);
  const int way = random_.below(4);
  const int at = plan_.has(seed) ? plan_.stage_of(seed) : random_.below(relaxed_.stages);
  if (plan_.has(seed)) remove(seed);
  if (way < 2) {
    remove_related(seed, count);
  } else {
    remove_around(way == 2 ? at : random_.below(relaxed_.stages), count);
  }
  collect(seed);
  order_candidates();
  int first = random_.below(delay_one_in) == 0 ? random_.below(relaxed_.stages + 1) : 0;
  for (int u : candidates_) {
    if (!plan_.has(u)) insert(u, first, relaxed_.stages - 1, true);
    first = 0;
  }
}

/// Accepts what is worse by less than a threshold that falls to nothing.
std::optional<std::vector<int>> Rebuilder::run(const std::vector<int>& start, std::int64_t steps,
                                               Meter& meter) {
  fill_by_rate();
  note_best();
  const std::int64_t filled = score();
  const std::vector<int> by_rate = plan_.stages();
  plan_.undo_to(0);
  start_from(start);
  if (score() < filled) {
    plan_.undo_to(0);
    start_from(by_rate);
  }
  note_best();
  std::int64_t now = score();
  const auto left_out = std::count(plan_.stages().begin(), plan_.stages().end(), -1);
  const std::int64_t many = std::max<std::int64_t>(relaxed_.units - left_out, 1);
  const std::int64_t first_threshold =
      std::max<std::int64_t>(std::abs(plan_.value()) / (threshold_part * many), 1);
  const std::int64_t begin = meter.steps();
  std::int64_t counted = 0;
  while (!wanted_.empty()) {
    const std::int64_t work = 2 * (work_ + plan_.work());
    meter.add(work - counted);
    counted = work;
    const std::int64_t used = meter.steps() - begin;
    if (used >= steps || meter.out()) break;
    plan_.keep();
    rebuild();
    if (score() < now - scale_down(first_threshold, steps - used, steps)) {
      plan_.undo_to(0);
      continue;
    }
    now = score();
    note_best();
  }
  return best_;
}

}  // namespace fettlefund::budgets::search
