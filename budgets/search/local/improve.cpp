#include "budgets/search/local/improve.hpp"

#include <algorithm>

namespace fettlefund::budgets::search {
namespace {

/// What a trial costs in steps: so much at all, and so much for each stage it shops for.
constexpr std::int64_t trial_steps = 2000;
constexpr std::int64_t stage_steps = 3000;

/// The score lost for each must left out: more than all worth together could make up for.
constexpr std::int64_t must_score = std::int64_t{1} << 58;

constexpr int most_taken = 4;       ///< units taken out at once
constexpr int rebuild_one_in = 16;  ///< changes
constexpr int rounds = 1;           ///< the threshold starts again so often

}  // namespace

std::uint64_t Dice::next() {
  std::uint64_t z = (state_ += 0x9e3779b97f4a7c15U);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31);
}

Improver::Improver(const Relaxed& relaxed, Meter& meter, std::uint64_t seed)
    : model_(*relaxed.model),
      meter_(meter),
      sieve_(relaxed),
      trial_(model_),
      dice_(seed),
      dependents_(model_.unit_count()),
      members_(model_.group_count()) {
  for (int u = 0; u < model_.unit_count(); ++u) {
    const Unit& unit = model_.units()[u];
    for (int b : unit.before) dependents_[b].push_back(u);
    for (int g : unit.groups) members_[g].push_back(u);
    if (unit.first <= unit.last) possible_.push_back(u);
  }
}

Placing Improver::placing_of(const Schedule& schedule) const {
  Placing placing(model_.unit_count(), -1);
  for (int u = 0; u < model_.unit_count(); ++u) {
    placing[u] = schedule.stage_of[model_.units()[u].jobs.front()];
  }
  return placing;
}

Found Improver::found(const Placing& placing) const {
  Schedule schedule;
  schedule.stage_of.assign(model_.data().jobs.size(), -1);
  for (int u = 0; u < model_.unit_count(); ++u) {
    for (int j : model_.units()[u].jobs) schedule.stage_of[j] = placing[u];
  }
  schedule.tool_bought = trial_.bought();
  return {std::move(schedule), trial_.rank()};
}

/// Left out with all that depends on it.
void Improver::leave_out(Placing& placing, int unit) const {
  if (placing[unit] < 0) return;
  placing[unit] = -1;
  for (int d : dependents_[unit]) leave_out(placing, d);
}

/// Into `stage`, with what has to come before it no later and what depends on it no earlier.
void Improver::put(Placing& placing, int unit, int stage) const {
  for (int g : model_.units()[unit].groups) {
    for (int other : members_[g]) {
      if (other != unit) leave_out(placing, other);
    }
  }
  placing[unit] = stage;
  for (int b : model_.units()[unit].before) {
    if (placing[b] < 0 || placing[b] > stage) put(placing, b, stage);
  }
  for (int d : dependents_[unit]) {
    if (placing[d] >= 0 && placing[d] < stage) put(placing, d, stage);
  }
}

Placing Improver::changed() {
  Placing next = now_;
  const int unit = possible_[dice_.below(static_cast<int>(possible_.size()))];
  const Unit& u = model_.units()[unit];
  const int stage = u.first + dice_.below(u.last - u.first + 1);
  const int kind = dice_.below(20);
  if (kind == 0) {
    leave_out(next, unit);
  } else if (kind < 8) {
    // Takes the place of another, which may stand elsewhere.
    const int other = possible_[dice_.below(static_cast<int>(possible_.size()))];
    const int place = next[other];
    leave_out(next, other);
    put(next, unit, place >= u.first && place <= u.last ? place : stage);
    if (kind < 4 && other != unit) {
      const Unit& o = model_.units()[other];
      put(next, other, o.first + dice_.below(o.last - o.first + 1));
    }
  } else if (kind < 14 && now_[unit] >= 0) {
    put(next, unit, std::clamp(now_[unit] + (dice_.below(2) == 0 ? -1 : 1), u.first, u.last));
  } else {
    put(next, unit, stage);
  }
  return next;
}

std::optional<std::int64_t> Improver::sieved(const Placing& placing) {
  meter_.add(sieve_.steps());
  return sieve_.value(placing);
}

bool Improver::keeps_rules(const Placing& placing) {
  const std::int64_t before = trial_.work();
  const bool kept = trial_.keeps_rules(placing);
  meter_.add(trial_steps + stage_steps * (trial_.work() - before));
  return kept;
}

/// A few units taken out; they and a few others put in again, in random order, each at its first stage from a
/// random one on that the rules let it have.
Placing Improver::rebuilt() {
  Placing next = now_;
  std::vector<int> waiting;
  const int size = static_cast<int>(possible_.size());
  const int taken = 1 + dice_.below(most_taken);
  for (int i = 0; i < 2 * taken; ++i) {
    const int unit = possible_[dice_.below(size)];
    if (i < taken) leave_out(next, unit);
    if (next[unit] < 0) waiting.push_back(unit);
  }
  for (std::size_t i = waiting.size(); i > 1; --i)
    std::swap(waiting[i - 1], waiting[dice_.below(static_cast<int>(i))]);
  for (int unit : waiting) {
    const Unit& u = model_.units()[unit];
    const int from = dice_.below(3) > 0 ? u.first : u.first + dice_.below(u.last - u.first + 1);
    for (int stage = from; stage <= u.last && next[unit] < 0 && !meter_.out(); ++stage) {
      Placing with = next;
      put(with, unit, stage);
      if (sieved(with) && keeps_rules(with)) next = std::move(with);
    }
  }
  return next;
}

std::int64_t Improver::score_of(const Placing& placing, std::int64_t value) const {
  for (int u = 0; u < model_.unit_count(); ++u) {
    if (model_.units()[u].must && placing[u] < 0) value -= must_score / 64;
  }
  return value;
}

/// What is worth too little, or can be ruled out, is not shopped for.
bool Improver::try_placing(const Placing& placing, std::int64_t threshold) {
  const auto value = sieved(placing);
  if (!value) return false;
  const std::int64_t score = score_of(placing, *value);
  if (score_ && score < *score_ - threshold) return false;
  if (!keeps_rules(placing)) return false;
  const Rank& rank = trial_.rank();
  const bool all_musts = score == rank.value;
  if (all_musts && (!best_ || better(rank, best_->rank))) best_ = found(placing);
  now_ = placing;
  score_ = score;
  trial_.keep();
  return true;
}

/// The mean worth of a unit at its first stage.
std::int64_t Improver::first_threshold() const {
  std::int64_t sum = 0;
  for (int u : possible_)
    sum += model_.units()[u].worth[model_.units()[u].first] / static_cast<int>(possible_.size());
  return sum;
}

void Improver::run(std::int64_t steps) {
  const std::int64_t begin = meter_.steps();
  const std::int64_t high = first_threshold();
  while (!meter_.out()) {
    const std::int64_t used = meter_.steps() - begin;
    if (used >= steps) break;
    // Falls as the square of what is left of the round, in 1024ths.
    const std::int64_t left = 1024 - used * 1024 / steps;
    const std::int64_t threshold = high / 1024 * left / 1024 * left;
    // One after the other: the order of the throws must not be the compiler's.
    const bool rebuild = dice_.below(rebuild_one_in) == 0;
    const std::int64_t allowed = threshold / 1024 * dice_.below(1024);
    try_placing(rebuild ? rebuilt() : changed(), allowed);
  }
}

std::optional<Found> Improver::improve(const Schedule* start, std::int64_t steps) {
  if (possible_.empty() || steps <= 0) return std::nullopt;
  now_ = start != nullptr ? placing_of(*start) : Placing(model_.unit_count(), -1);
  try_placing(now_, 0);
  for (int round = 0; round < rounds && !meter_.out(); ++round) {
    if (best_ && round > 0) {
      score_.reset();
      try_placing(placing_of(best_->schedule), 0);
    }
    run(steps / rounds);
  }
  return best_;
}

}  // namespace fettlefund::budgets::search
